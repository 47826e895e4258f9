import type { LevelMatch } from '../../core/measure/level-match.js';
import type { Listening } from './listening.js';
import { gainToApply_dB, UNTOUCHED, type HeardMatch } from './heard-match.js';

const MINUS = '−';
const NBSP = '\u00a0';

/** `+0.4 dB`, with a true minus and a space that does not break. */
export function sayGain(value_dB: number): string {
  const rounded = Math.abs(value_dB).toFixed(1);
  const sign = rounded === '0.0' ? '' : value_dB < 0 ? MINUS : '+';
  return `${sign}${rounded}${NBSP}dB`;
}

/** The match in sentences: what was done, by what, how well it is known, and whether any level makes this fair. */
export function sayMatch({ match, estimated }: HeardMatch): string {
  if (match === null) return 'Not matched so far: the match of what is heard is being measured.';
  if (match.kind === 'unmeasurable') return `Not matched: ${match.reason}.`;
  if (match === UNTOUCHED) return 'Nothing is done to it: source and treated are the same.';
  const gain = sayGain(gainToApply_dB(match));
  if (estimated)
    return `Match estimated, treated ${gain}: that of the settings before. The one of these is being measured.`;
  if (!match.fair) return `${sayApart(match)} No level makes this fair: judge with care. Heard with treated ${gain}.`;
  const apart = `${match.apart_LU.toFixed(2)}${NBSP}${match.by === 'BS.1770 loudness' ? 'LU' : 'dB'} apart`;
  const over = match.over_s === undefined ? '' : `, over ${Math.round(match.over_s)}${NBSP}s of the song`;
  return `Matched: treated ${gain}, ${apart}, by ${match.by}${over}.`;
}

/** `Treated is 7.9 dB louder as it is heard.` */
export function sayApart({ match_dB }: LevelMatch): string {
  const apart = Math.abs(match_dB).toFixed(1);
  return `Treated is ${apart}${NBSP}dB ${match_dB < 0 ? 'louder' : 'softer'}.`;
}

/** Above the choice of sides: what is heard and how it is matched, and the figure by itself. */
export function sayHeard(listening: Listening, { match, estimated }: HeardMatch): { words: string; figure: string } {
  const figure = sayGain(gainToApply_dB(match));
  if (listening.difference) return { words: 'Hear the difference, not matched', figure: '' };
  if (match === null) return { words: 'Hear, not matched so far', figure: '' };
  if (match === UNTOUCHED) return { words: 'Hear, nothing is done to it', figure: '' };
  if (match.kind === 'unmeasurable') return { words: 'Hear, not matched', figure: '' };
  if (estimated) return { words: 'Hear, match estimated', figure };
  return match.fair ? { words: 'Hear, level-matched by', figure } : { words: 'Hear, no level is fair, by', figure };
}
