import { isMono, midOf, type StereoSignal } from '../signal/stereo-signal.js';
import { decimated } from '../dsp/reduced-rate.js';

/** One channel of sound at a rate of its own. */
export interface AnalysisChannel {
  readonly samples: Float64Array;
  readonly sampleRate_Hz: number;
}

/**
 * The one channel hits and notes are looked for in, at about 8 kHz (48 000 / 6, 44 100 / 5): the mid, or, where the two sides
 * cancel in the mid by more than 6 dB, the louder side alone.
 */
export function analysisChannel(signal: StereoSignal): AnalysisChannel {
  const factor = Math.max(1, Math.floor(signal.sampleRate_Hz / 8000));
  const chosen = chosenChannel(signal);
  const samples = factor === 1 ? Float64Array.from(chosen) : decimated(chosen, factor);
  return { samples, sampleRate_Hz: signal.sampleRate_Hz / factor };
}

function chosenChannel(signal: StereoSignal): Float64Array {
  const mid = midOf(signal);
  if (isMono(signal)) return mid;
  const left = energyOf(signal.left);
  const right = energyOf(signal.right);
  if (4 * energyOf(mid) >= Math.max(left, right)) return mid;
  return Float64Array.from(left >= right ? signal.left : signal.right);
}

function energyOf(samples: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += samples[i]! * samples[i]!;
  return sum;
}
