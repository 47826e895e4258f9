import { fileNameWords } from './file-name-words.js';
import { PLACES, ROLE_PHRASES, WITHOUT, type RolePhrase, type WordMeaning } from './role-words.js';
import type { Role } from './song.js';

/** A guess at a stem's role: why, for the engineer to check, and how sure, 0..1. */
export interface RoleGuess {
  /** null where there is nothing to go by. */
  readonly role: Role | null;
  readonly because: string;
  readonly confidence: number;
  /** True where kick and bass are said to be in one stem. */
  readonly kickAndBass?: boolean;
}

interface Match {
  readonly phrase: RolePhrase;
  readonly at: number;
}

/**
 * The role that a file name speaks for. Reads the words of the name against `role-words.ts`; where two of them disagree, the
 * guess is unsure, so that it is asked and not made.
 */
export function roleFromName(file: string): RoleGuess {
  return roleFromWords(fileNameWords(file));
}

/** As `roleFromName`, from words already taken out of the name. */
export function roleFromWords(words: readonly string[]): RoleGuess {
  const matches = phrasesIn(splitCompounds(words));
  return decide(matches) ?? { role: null, because: 'the name says nothing', confidence: 0 };
}

/** How many words stand before the first one that says something of the role; all of them where none does. */
export function wordsBeforeRole(words: readonly string[]): number {
  return phrasesIn(words).find(({ phrase }) => phrase.meaning !== 'neutral')?.at ?? words.length;
}

const byFirstWord = new Map<string, RolePhrase[]>();
for (const phrase of [...ROLE_PHRASES].sort((a, b) => b.words.length - a.words.length)) {
  const first = phrase.words[0]!;
  byFirstWord.set(first, [...(byFirstWord.get(first) ?? []), phrase]);
}

const lowNames = new Set(
  ROLE_PHRASES.filter(({ meaning, words, sure }) => words.length === 1 && sure > 0.5 && isLow(meaning)).map(
    ({ words }) => words[0]!,
  ),
);

function isLow(meaning: WordMeaning): boolean {
  return meaning === 'kick' || meaning === 'bass' || meaning === 'low';
}

/** `kickin` is `kick in`, `subkick` is `sub kick`; a word that the table has is left whole. */
function splitCompounds(words: readonly string[]): string[] {
  return words.flatMap((word) => {
    if (byFirstWord.has(word)) return [word];
    for (let at = word.length - 1; at >= 2; at--) {
      const [first, second] = [word.slice(0, at), word.slice(at)];
      if (lowNames.has(first) && (lowNames.has(second) || PLACES.has(second))) return [first, second];
    }
    return [word];
  });
}

function phrasesIn(words: readonly string[]): Match[] {
  const matches: Match[] = [];
  let at = 0;
  while (at < words.length) {
    const phrase = (byFirstWord.get(words[at]!) ?? []).find(({ words: wanted }) =>
      wanted.every((word, i) => words[at + i] === word),
    );
    if (phrase !== undefined && !isTakenAway(words, at)) matches.push({ phrase, at });
    at += phrase?.words.length ?? 1;
  }
  return matches;
}

function isTakenAway(words: readonly string[], at: number): boolean {
  const [before, twoBefore] = [words[at - 1], words[at - 2]];
  return WITHOUT.has(before ?? '') || (before === 'the' && WITHOUT.has(twoBefore ?? ''));
}

function decide(matches: readonly Match[]): RoleGuess | null {
  const of = (meaning: WordMeaning) => strongest(matches.filter(({ phrase }) => phrase.meaning === meaning));
  const whole = of('reference') ?? of('mix');
  if (whole) return guess(whole, whole.meaning === 'reference' ? 'reference' : 'mix');
  const together = of('kick-and-bass');
  if (together) return { ...guess(together, 'bass'), kickAndBass: true };

  const [kick, bass, low] = [of('kick'), of('bass'), of('low')];
  const [voice, source, family] = [of('voice'), of('source'), of('family')];
  if (voice) return kick || bass ? guess(voice, 'rest', 0.7) : guess(voice, 'rest');
  const aside = of('aside');
  if (aside) return kick || bass ? guess(aside, 'aside', 0.5) : guess(aside, 'aside');
  if (kick && bass) return disagreement(kick, bass, 'kick');
  const lowSource = kick ?? bass ?? low;
  if (lowSource && source) return disagreement(lowSource, source, kick ? 'kick' : 'bass');
  if (lowSource) return lowGuess(lowSource, kick ? 'kick' : 'bass', family);
  const rest = source ?? family;
  if (rest) return guess(rest, 'rest');
  const mix = of('mix-word');
  return mix ? guess(mix, 'mix') : null;
}

/** A family beside a source says where it was heard or how it is played: a little less sure, never another role. */
function lowGuess(phrase: RolePhrase, role: Role, family: RolePhrase | null): RoleGuess {
  if (family === null) return guess(phrase, role);
  return {
    ...guess(phrase, role, Math.min(phrase.sure, 0.8)),
    because: `the name says ${quoted(family)} and ${quoted(phrase)}`,
  };
}

function disagreement(first: RolePhrase, second: RolePhrase, role: Role): RoleGuess {
  return { role, because: `the name says ${quoted(first)} and ${quoted(second)}`, confidence: 0.4 };
}

function strongest(matches: readonly Match[]): RolePhrase | null {
  return matches.reduce<RolePhrase | null>(
    (best, { phrase }) => (best === null || phrase.sure > best.sure ? phrase : best),
    null,
  );
}

function guess(phrase: RolePhrase, role: Role, confidence = phrase.sure): RoleGuess {
  return { role, because: `the name says ${quoted(phrase)}`, confidence };
}

function quoted(phrase: RolePhrase): string {
  return `"${phrase.words.join(' ')}"`;
}
