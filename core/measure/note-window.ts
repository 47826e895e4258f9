import type { StereoSignal } from '../signal/stereo-signal.js';
import { isMono } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';

/** Notes shorter than this are listed, not counted. */
export const SHORTEST_COUNTED_s = 0.1;

/** How long after the onset measuring begins. */
export const ONSET_s = 0.03;

/** A stretch of a signal in samples, `from` included, `to` excluded. */
export interface FrameRange {
  readonly from: number;
  readonly to: number;
}

/**
 * The part of a note that is measured: from 30 ms after its onset to `longest_s` after it, or 20 ms before its end where that
 * is sooner. Null where nothing of it lies inside the signal.
 */
export function noteWindow(
  note: Pick<Note, 'start_s' | 'end_s'>,
  longest_s: number,
  signal: StereoSignal,
): FrameRange | null {
  const end_s = Math.min(note.start_s + longest_s, note.end_s - 0.02);
  const from = Math.max(0, Math.round((note.start_s + ONSET_s) * signal.sampleRate_Hz));
  const to = Math.min(signal.left.length, Math.round(end_s * signal.sampleRate_Hz));
  return to > from ? { from, to } : null;
}

/** Mean square over a stretch, averaged over both channels. */
export function meanSquareOf(signal: StereoSignal, range: FrameRange): number {
  const sum = squares(signal.left, range);
  const both = isMono(signal) ? 2 * sum : sum + squares(signal.right, range);
  return both / (2 * (range.to - range.from));
}

function squares(samples: ArrayLike<number>, { from, to }: FrameRange): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += samples[i]! * samples[i]!;
  return sum;
}
