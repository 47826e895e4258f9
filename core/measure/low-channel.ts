import { LowBand } from '../dsp/low-band.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';

/** The lows of one channel at about 4 kHz, clean to 605 Hz: sample n stands at time n / rate. */
export interface LowChannel {
  readonly samples: Float64Array;
  readonly rate_Hz: number;
  /** Samples of the channel per sample here. */
  readonly factor: number;
}

const RATE_Hz = 4000;
/** The highest third octave that is measured ends at 600 Hz. */
export const LOWS_END_Hz = 605;

/** The rate of the lows: the song's rate over a whole factor. */
export function lowRate_Hz(sampleRate_Hz: number): number {
  return bandAt(sampleRate_Hz).rate_Hz;
}

function bandAt(sampleRate_Hz: number): LowBand {
  return new LowBand(sampleRate_Hz, RATE_Hz, LOWS_END_Hz);
}

/** Kept as long as the channel itself is; a channel is not changed once it has been measured. */
const made = new WeakMap<Channel, { readonly sampleRate_Hz: number; readonly low: LowChannel }>();

/** Most measures look at the lows alone: they are taken out once for all of them. */
export function lowChannel(channel: Channel, sampleRate_Hz: number): LowChannel {
  const known = made.get(channel);
  if (known !== undefined && known.sampleRate_Hz === sampleRate_Hz) return known.low;
  const band = bandAt(sampleRate_Hz);
  const low = { samples: band.ofChannel(channel), rate_Hz: band.rate_Hz, factor: band.factor };
  made.set(channel, { sampleRate_Hz, low });
  return low;
}

/** (L + R) / 2 of the lows. */
export function lowMid({ left, right, sampleRate_Hz }: StereoSignal): LowChannel {
  const low = lowChannel(left, sampleRate_Hz);
  if (left === right) return low;
  const other = lowChannel(right, sampleRate_Hz).samples;
  return { ...low, samples: low.samples.map((value, n) => 0.5 * (value + other[n]!)) };
}

/** Both channels of the lows as a signal; a mono signal stays mono. */
export function lowSignal(signal: StereoSignal): StereoSignal {
  const { samples, rate_Hz } = lowChannel(signal.left, signal.sampleRate_Hz);
  const right = isMono(signal) ? samples : lowChannel(signal.right, signal.sampleRate_Hz).samples;
  return { left: samples, right, sampleRate_Hz: rate_Hz };
}
