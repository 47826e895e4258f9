import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { power_to_dB } from '../units/decibels.js';
import { median } from '../units/statistics.js';

/**
 * Onset over sustain of a lane, dB: the level from 3 ms before to 20 ms after each onset, less that from 60 to 160 ms into the
 * note, median over the notes that last 160 ms; null where none does or the lane is silent.
 */
export function onsetOverSustain_dB(lane: StereoSignal, notes: readonly Note[]): number | null {
  const ratios = notes.flatMap((note) => {
    if (note.end_s - note.start_s < 0.16) return [];
    const onset = power(lane, note.start_s - 0.003, note.start_s + 0.02);
    const sustain = power(lane, note.start_s + 0.06, note.start_s + 0.16);
    return onset > 0 && sustain > 0 ? [power_to_dB(onset / sustain)] : [];
  });
  return ratios.length > 0 ? median(ratios) : null;
}

function power({ left, right, sampleRate_Hz }: StereoSignal, from_s: number, to_s: number): number {
  const from = Math.max(0, Math.round(from_s * sampleRate_Hz));
  const to = Math.min(left.length, Math.round(to_s * sampleRate_Hz));
  let sum = 0;
  for (let n = from; n < to; n++) sum += left[n]! * left[n]! + right[n]! * right[n]!;
  return to > from ? sum / (to - from) : 0;
}
