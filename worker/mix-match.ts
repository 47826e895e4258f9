import { levelMatch, type LevelMatch } from '../core/measure/level-match.js';
import type { SongSound } from '../core/measure/song-sound.js';
import { sumOf, type StereoSignal } from '../core/signal/stereo-signal.js';
import type { WalkResult } from '../core/solve/path-walk.js';
import { unmeasurable, type Unmeasurable } from '../core/units/reading.js';

/** The gain that makes the treated mix as loud as the source, from the sound that solving left. */
export function mixMatch(source: SongSound, treated: Pick<WalkResult, 'kick' | 'bass'>): LevelMatch | Unmeasurable {
  const sum = (kick: StereoSignal | null, bass: StereoSignal | null) =>
    sumOf([kick, bass, source.rest].filter((bus) => bus !== null));
  const before = sum(source.kick, source.bass);
  const after = sum(treated.kick, treated.bass);
  return before === null || after === null
    ? unmeasurable('the song is silent')
    : levelMatch(before, after, 'whole mix');
}
