import type { LevelMatch } from '../../core/measure/level-match.js';
import type { Unmeasurable } from '../../core/units/reading.js';

const MINUS = '−';
const NBSP = '\u00a0';

/** `+0.4 dB`, with a true minus and a space that does not break. */
export function sayGain(value_dB: number): string {
  const rounded = Math.abs(value_dB).toFixed(1);
  const sign = rounded === '0.0' ? '' : value_dB < 0 ? MINUS : '+';
  return `${sign}${rounded}${NBSP}dB`;
}

/** The match in a sentence: what was done, by what, and whether any level makes this fair. */
export function sayMatch(match: LevelMatch | Unmeasurable | null): string {
  if (match === null) return 'Not matched: not measured so far.';
  if (match.kind === 'unmeasurable') return `Not matched: ${match.reason}.`;
  const apart = `${match.apart_LU.toFixed(2)}${NBSP}${match.by === 'BS.1770 loudness' ? 'LU' : 'dB'} apart, by ${match.by}.`;
  if (!match.fair) return `They are ${sayGain(match.match_dB)} apart. No level makes this fair: judge with care.`;
  return `Matched: treated ${sayGain(match.match_dB)}, ${apart}`;
}

/** The gain to be applied on the monitor; 0 where none is known. */
export function gainToApply_dB(match: LevelMatch | Unmeasurable | null): number {
  return match !== null && match.kind === 'match' ? match.match_dB : 0;
}
