import { BEATS_PER_BAR } from '../strip/beat-grid.js';
import type { StripSong } from '../strip/strip-song.js';

/** Bar and beat at a time, counted from 1: `34.2`; null where there is no grid or the time lies before the first bar. */
export function barAndBeat({ grid }: Pick<StripSong, 'grid'>, time_s: number): string | null {
  if (grid === null) return null;
  const beat = Math.floor((time_s - grid.bar1_s) / grid.beat_s + 1e-6);
  if (beat < 0) return null;
  return `${Math.floor(beat / BEATS_PER_BAR) + 1}.${(beat % BEATS_PER_BAR) + 1}`;
}
