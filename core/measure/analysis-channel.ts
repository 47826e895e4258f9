import { isMono, midOf, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { LowBand } from '../dsp/low-band.js';

/** One channel of sound at a rate of its own. */
export interface AnalysisChannel {
  readonly samples: Float64Array;
  readonly sampleRate_Hz: number;
}

/**
 * The one channel hits and notes are looked for in, at about 8 kHz (48 000 / 6, 44 100 / 5), clean to 0.4 of that: the mid, or,
 * where the two sides cancel in the mid by more than 6 dB, the louder side alone.
 */
export function analysisChannel(signal: StereoSignal): AnalysisChannel {
  const { sampleRate_Hz } = signal;
  const factor = Math.max(1, Math.floor(sampleRate_Hz / RATE_Hz));
  const band = new LowBand(sampleRate_Hz, RATE_Hz, (0.4 * sampleRate_Hz) / factor);
  return { samples: band.ofChannel(chosenChannel(signal)), sampleRate_Hz: band.rate_Hz };
}

const RATE_Hz = 8000;

function chosenChannel(signal: StereoSignal): Channel {
  if (isMono(signal)) return signal.left;
  const mid = midOf(signal);
  const left = energyOf(signal.left);
  const right = energyOf(signal.right);
  if (4 * energyOf(mid) >= Math.max(left, right)) return mid;
  return left >= right ? signal.left : signal.right;
}

function energyOf(samples: Channel): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += samples[i]! * samples[i]!;
  return sum;
}
