import { FAIR_MATCH_dB, type LevelMatch } from '../../core/measure/level-match.js';
import type { Unmeasurable } from '../../core/units/reading.js';

/** The match that holds for what is heard; null where none is known so far. */
export type Match = LevelMatch | Unmeasurable | null;

export interface HeardMatch {
  readonly match: Match;
  /** It is the last one that was measured for this part, of other settings: the one of these settings is on its way. */
  readonly estimated: boolean;
}

/** A match of the whole mix that was measured before and kept as its gain alone. */
export function wholeMixMatch(match_dB: number): LevelMatch {
  const fair = Math.abs(match_dB) <= FAIR_MATCH_dB;
  return { kind: 'match', match_dB, apart_LU: 0, by: 'BS.1770 loudness', fair };
}

/** What nothing is done to is as loud as it came. */
export const UNTOUCHED: LevelMatch = {
  ...{ kind: 'match', match_dB: 0, apart_LU: 0 },
  ...{ by: 'BS.1770 loudness', fair: true },
};

export const NO_MATCH: HeardMatch = { match: null, estimated: false };

/**
 * The gain that is applied to the treated side on the monitor, dB; 0 where none is known. It raises by no more than 6 dB: beyond
 * that no level is fair, and what is loud would be louder still.
 */
export function gainToApply_dB(match: Match): number {
  return match !== null && match.kind === 'match' ? Math.min(FAIR_MATCH_dB, match.match_dB) : 0;
}
