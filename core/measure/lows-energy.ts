import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { lowSignal } from './low-channel.js';

/**
 * Energy from 30 to 150 Hz, channels summed (zero-phase Butterworth band-pass, 4th order both ways), as a sum of squares at
 * about 4 kHz; 0 for no signal.
 */
export function lowsEnergy(signal: StereoSignal | null): number {
  if (signal === null) return 0;
  const low = lowSignal(signal);
  const sections = butterworthBandPass(4, 30, 150, low.sampleRate_Hz);
  const pad = Math.round(low.sampleRate_Hz);
  const energy = (channel: Channel): number => {
    let sum = 0;
    for (const value of filteredBothWays(channel, sections, pad)) sum += value * value;
    return sum;
  };
  const left = energy(low.left);
  return isMono(low) ? 2 * left : left + energy(low.right);
}
