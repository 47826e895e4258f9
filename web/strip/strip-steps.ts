import { firstAtOrAfter } from './strip-frame.js';
import type { StripRowId } from './strip-rows.js';
import type { StripSong } from './strip-song.js';

/** Times that [ and ] go to in a row: hits, or note starts. */
export function stepTimes_s(song: StripSong, row: StripRowId): readonly number[] {
  return row === 'notes' ? song.staff.notes.map(({ start_s }) => start_s) : song.hits.map(({ time_s }) => time_s);
}

/** The next time after (or before) where one stands; null where there is none. */
export function nextStep_s(times_s: readonly number[], at_s: number, direction: 1 | -1): number | null {
  const same = 1e-4;
  if (direction === 1) return times_s[firstAtOrAfter(times_s, (time) => time, at_s + same)] ?? null;
  return times_s[firstAtOrAfter(times_s, (time) => time, at_s - same) - 1] ?? null;
}
