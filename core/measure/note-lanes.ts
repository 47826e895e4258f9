import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthLowPass } from '../dsp/butterworth.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';
import type { FrameRange } from './note-window.js';

const CORNER_Hz = 300;
/** Sound on either side that the filter sees. */
const CONTEXT_s = 0.05;
/** What silence in a lane reads: far under any note, and still a number to compare. */
const FLOOR_POWER = 1e-15;

/**
 * Levels of stretches of the bass below and above 300 Hz, 10 lg of mean square: low = second-order Butterworth forward and
 * backward, 1 / (1 + (f/300)^4) at zero phase; high = what is left.
 */
export function laneLevelsOf(
  bass: StereoSignal,
  ranges: readonly FrameRange[],
): { low_dBFS: number[]; high_dBFS: number[] } {
  const powers = ranges.map((range) => {
    const left = lanePowers(bass.left, range, bass.sampleRate_Hz);
    const right = isMono(bass) ? left : lanePowers(bass.right, range, bass.sampleRate_Hz);
    return { low: (left.low + right.low) / 2, high: (left.high + right.high) / 2 };
  });
  return {
    low_dBFS: powers.map(({ low }) => power_to_dB(low + FLOOR_POWER)),
    high_dBFS: powers.map(({ high }) => power_to_dB(high + FLOOR_POWER)),
  };
}

function lanePowers(samples: Channel, { from, to }: FrameRange, sampleRate_Hz: number): { low: number; high: number } {
  const context = Math.round(CONTEXT_s * sampleRate_Hz);
  const start = Math.max(0, from - context);
  const stretch = samples.subarray(start, Math.min(samples.length, to + context));
  const lows = filteredBothWays(stretch, butterworthLowPass(2, CORNER_Hz, sampleRate_Hz), context);
  let low = 0;
  let high = 0;
  for (let i = from - start; i < to - start; i++) {
    const rest = stretch[i]! - lows[i]!;
    low += lows[i]! * lows[i]!;
    high += rest * rest;
  }
  return { low: low / (to - from), high: high / (to - from) };
}
