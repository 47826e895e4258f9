import type { Finding } from '../../../core/findings/finding.js';
import { BEATS_PER_BAR, barAt, barStart_s, type BeatGrid } from '../../strip/beat-grid.js';

const BARS = 4;
const SECONDS = 8;
/** Begins a little before the bar, so that no attack is cut. */
const BEFORE_s = 0.02;

/** Every time that a finding names: its hits, its notes, the middles of its stretches. */
export function timesOf({ where }: Finding): number[] {
  return [
    ...where.hits_s,
    ...where.notes.map(({ start_s }) => start_s),
    ...where.times_s.map(([from_s, to_s]) => (from_s + to_s) / 2),
  ].sort((a, b) => a - b);
}

/**
 * Where to hear a finding: the four bars (8 s where there are no bars) that hold most of its places, the first of equals. Null
 * for a finding that lies nowhere in particular: it is heard anywhere.
 */
export function hearingStretch(
  finding: Finding,
  grid: BeatGrid | null,
  duration_s: number,
): readonly [number, number] | null {
  const times = timesOf(finding);
  if (times.length === 0) return null;
  const length = Math.min(duration_s, grid === null ? SECONDS : BARS * BEATS_PER_BAR * grid.beat_s);
  let best: readonly [number, number] | null = null;
  let most = 0;
  for (const time_s of times) {
    const begin_s = (grid === null ? time_s : barStart_s(grid, barAt(grid, time_s + 0.1 * grid.beat_s))) - BEFORE_s;
    const from_s = Math.max(0, Math.min(duration_s - length, begin_s));
    const held = times.filter((other) => other >= from_s && other < from_s + length).length;
    if (held > most) [best, most] = [[from_s, from_s + length], held];
  }
  return best;
}
