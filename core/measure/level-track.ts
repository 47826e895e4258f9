import { power_to_dB } from '../units/decibels.js';

/** Levels at a steady step: value n stands at time n * step_s. */
export interface LevelTrack {
  readonly level_dB: Float64Array;
  readonly step_s: number;
}

/**
 * Level of one channel over time: 10 lg of the mean square of the `span_s` that end at each step (trailing) or lie around it
 * (centred). Never under `floor_dB`.
 */
export function levelTrack(
  samples: Float64Array,
  sampleRate_Hz: number,
  shape: { step_s: number; span_s: number; trailing: boolean; floor_dB?: number },
): LevelTrack {
  const { step_s, span_s, trailing, floor_dB = -200 } = shape;
  const sums = runningPower(samples);
  const span = Math.max(1, Math.round(span_s * sampleRate_Hz));
  const after = trailing ? 0 : span >> 1;
  const level_dB = new Float64Array(Math.ceil(samples.length / sampleRate_Hz / step_s));
  for (let n = 0; n < level_dB.length; n++) {
    const end = Math.round(n * step_s * sampleRate_Hz) + after;
    const to = Math.min(samples.length, end);
    const from = Math.max(0, end - span);
    const power = to > from ? (sums[to]! - sums[from]!) / span : 0;
    level_dB[n] = power > 1e-20 ? Math.max(floor_dB, power_to_dB(power)) : floor_dB;
  }
  return { level_dB, step_s };
}

/** sums[n] = x[0]^2 + ... + x[n - 1]^2, length + 1 values. */
export function runningPower(samples: Float64Array): Float64Array {
  const sums = new Float64Array(samples.length + 1);
  let sum = 0;
  for (let n = 0; n < samples.length; n++) {
    sum += samples[n]! * samples[n]!;
    sums[n + 1] = sum;
  }
  return sums;
}
