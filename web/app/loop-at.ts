import type { StripLoop } from '../strip/SongStrip.js';

const BEATS = 4;

/** The loop from the listening place on: to where it ended, else for four beats. */
export function loopStartingAt(loop: StripLoop | null, at_s: number, beat_s: number, duration_s: number): StripLoop {
  const end_s = loop !== null && loop[1] > at_s + beat_s / BEATS ? loop[1] : at_s + BEATS * beat_s;
  return [at_s, Math.min(duration_s, end_s)];
}

/** The loop up to the listening place: from where it began, else the four beats before it. */
export function loopEndingAt(loop: StripLoop | null, at_s: number, beat_s: number): StripLoop {
  const from_s = loop !== null && loop[0] < at_s - beat_s / BEATS ? loop[0] : at_s - BEATS * beat_s;
  const end_s = Math.max(at_s, beat_s);
  return [Math.max(0, from_s), end_s];
}

/** The one after (or before) in a list that goes round; the first where it is not in it. */
export function nextOf<One>(list: readonly One[], now: One, step: 1 | -1): One {
  const at = list.indexOf(now);
  return list[at < 0 ? 0 : (at + step + list.length) % list.length]!;
}
