import type { WishDeclaration } from '../../core/treatment/stage.js';
import type { Wish } from '../../core/wishes/wish.js';

/** A piece of a wish as a sentence: words, or a blank for one of its limits. */
export type SentencePiece = { readonly text: string } | { readonly limit: 'low' | 'high' };

/** Sentences that read better than the plain form, by statistic: `{low}` and `{high}` are blanks. */
const SENTENCES: Readonly<Record<string, string>> = {
  'clearance.share2dB': '{low} of hits at least 2\u00a0dB clear of the bass',
  'steady.loudNoteReduction_dB': 'Hold the loudest notes back by {low} to {high}',
  'evenness.spread_dB': 'Notes within {high} of each other, the outer tenths left out',
  'evenness.pitchDeviation_dB': 'No pitch further than {high} from the line',
  'centre.foldDownLoss_dB': 'Lose no more than {high} of the lows in mono',
  'carry.laptop_LU': 'On a laptop the bass falls to {low} against the song, and no further',
  'trim.lowsChange_dB': 'Hold the energy of the lows within {low} and {high} of the source',
  'widen.sideToMid_dB': 'The side stands at {low} to {high} against the middle',
};

/** The wish as a sentence with blanks: one of ours where its limits fit, else made from the stage's declaration. */
export function wishSentence(wish: Wish, declared: Pick<WishDeclaration, 'name'>): SentencePiece[] {
  const own = SENTENCES[wish.statistic];
  return piecesOf(own !== undefined && fits(own, wish) ? own : plainSentence(wish, declared.name));
}

function fits(sentence: string, { low, high }: Wish): boolean {
  return sentence.includes('{low}') === (low !== null) && sentence.includes('{high}') === (high !== null);
}

function plainSentence({ low, high }: Wish, name: string): string {
  const subject = name.charAt(0).toUpperCase() + name.slice(1);
  if (low !== null && high !== null) return `${subject} of {low} to {high}`;
  if (low !== null) return `${subject} of {low} or more`;
  return high === null ? `${subject} as it is` : `${subject} of {high} or less`;
}

function piecesOf(sentence: string): SentencePiece[] {
  return `${sentence}.`.split(/(\{low\}|\{high\})/).flatMap((part): SentencePiece[] => {
    if (part === '{low}') return [{ limit: 'low' }];
    if (part === '{high}') return [{ limit: 'high' }];
    return part === '' ? [] : [{ text: part }];
  });
}

/** The wish with one limit changed; a limit pushed past the other takes it along. */
export function withLimit(wish: Wish, limit: 'low' | 'high', value: number): Wish {
  if (limit === 'low') return { ...wish, low: value, high: wish.high === null ? null : Math.max(wish.high, value) };
  return { ...wish, high: value, low: wish.low === null ? null : Math.min(wish.low, value) };
}
