import { BiquadCascade } from '../dsp/biquad.js';
import { butterworthHighPass } from '../dsp/butterworth.js';
import { isMono, midOf, sideOf, type StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';

/** What a mono sound reads, and the least that is told. */
export const NO_SIDE_dB = -120;

/** Power of the side against the middle above a corner (Butterworth, 4th order), dB; -120 where there is no side. */
export function sideToMid_dB(signal: StereoSignal, corner_Hz: number): number {
  if (isMono(signal)) return NO_SIDE_dB;
  const energyAbove = (samples: Float64Array): number => {
    new BiquadCascade(butterworthHighPass(4, corner_Hz, signal.sampleRate_Hz)).process(samples);
    let sum = 0;
    for (const value of samples) sum += value * value;
    return sum;
  };
  const mid = energyAbove(midOf(signal));
  const side = energyAbove(sideOf(signal));
  return mid > 0 && side > 0 ? Math.max(NO_SIDE_dB, power_to_dB(side / mid)) : NO_SIDE_dB;
}
