import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { power_to_dB } from '../units/decibels.js';
import { cosCycles, sinCycles } from '../units/exact-math.js';
import { median, percentile } from '../units/statistics.js';

/**
 * Third harmonic of the loud notes of a lane re their fundamental, dB: Hann-windowed projections on f0 and 3 f0 from 30 to
 * 250 ms into each note, median over the notes whose fundamental is within the loudest quarter; null where no note is long
 * enough.
 */
export function thirdHarmonic_dB(lane: StereoSignal, notes: readonly Note[]): number | null {
  const read = notes.flatMap((note) => {
    const from = Math.round((note.start_s + 0.03) * lane.sampleRate_Hz);
    const to = Math.round(Math.min(note.start_s + 0.25, note.end_s - 0.02) * lane.sampleRate_Hz);
    if (to - from < 0.06 * lane.sampleRate_Hz || note.curve_Hz !== null) return [];
    const first = linePower(lane, note.frequency_Hz, from, to);
    const third = linePower(lane, 3 * note.frequency_Hz, from, to);
    return first > 0 && third > 0 ? [{ first, ratio_dB: power_to_dB(third / first) }] : [];
  });
  if (read.length === 0) return null;
  const loud = percentile(
    read.map(({ first }) => first),
    75,
  );
  return median(read.filter(({ first }) => first >= loud).map(({ ratio_dB }) => ratio_dB));
}

function linePower(signal: StereoSignal, frequency_Hz: number, from: number, to: number): number {
  let power = 0;
  for (const channel of [signal.left, signal.right]) {
    let re = 0;
    let im = 0;
    for (let n = from; n < to; n++) {
      const window = 0.5 - 0.5 * cosCycles((n - from) / (to - from));
      const cycles = (frequency_Hz * n) / signal.sampleRate_Hz;
      const value = window * (channel[n] ?? 0);
      re += value * cosCycles(cycles);
      im -= value * sinCycles(cycles);
    }
    power += re * re + im * im;
  }
  return power;
}
