import { lowChannel, lowSignal } from '../measure/low-channel.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';

/** A span of song time in which the band is wanted. */
export interface Span {
  readonly from_s: number;
  readonly to_s: number;
}

/** The response of a band filter of fixed gain to an impulse of 1 at a sample that is told. */
export interface BandResponse {
  readonly samples: Channel;
  readonly sampleRate_Hz: number;
  readonly impulseAt: number;
}

/** An impulse for `BandResponse`, in the middle of as much silence as the filter rings on either side. */
export function impulseFor(sampleRate_Hz: number, ring_s: number): { signal: StereoSignal; impulseAt: number } {
  const { factor } = lowChannel(new Float64Array(1), sampleRate_Hz);
  const impulseAt = factor * Math.ceil((ring_s * sampleRate_Hz) / factor);
  const left = new Float64Array(2 * impulseAt + 1);
  left[impulseAt] = 1;
  return { signal: { left, right: left, sampleRate_Hz }, impulseAt };
}

/**
 * The lows of B(x) in some spans, silence elsewhere: the lows of x folded with the lows of B's impulse response, all at about
 * 4 kHz. Both are clean where hits are measured, so that this equals the lows of the filtered sound there.
 */
export function bandOfLows(sound: StereoSignal, response: BandResponse, spans: readonly Span[]): StereoSignal {
  const low = lowSignal(sound);
  const { samples, factor } = lowChannel(response.samples, response.sampleRate_Hz);
  const kernel = trimmed(samples, response.impulseAt / factor, factor);
  const channel = (x: Channel): Float64Array => foldedIn(x, kernel, low.sampleRate_Hz, spans);
  const left = channel(low.left);
  return { left, right: isMono(low) ? left : channel(low.right), sampleRate_Hz: low.sampleRate_Hz };
}

/** Taps from `first` samples after the centre on (negative: ahead of it). */
interface Kernel {
  readonly taps: Float64Array;
  readonly first: number;
}

/** Less than this of the largest tap is nothing. */
const SILENT_TAP = 1e-9;

function trimmed(samples: Float64Array, centre: number, factor: number): Kernel {
  const largest = samples.reduce((most, tap) => Math.max(most, Math.abs(tap)), 0);
  const heard = (tap: number): boolean => Math.abs(tap) > SILENT_TAP * largest;
  const from = Math.max(0, samples.findIndex(heard));
  const to = samples.findLastIndex(heard) + 1;
  return { taps: samples.slice(from, to).map((tap) => factor * tap), first: from - centre };
}

function foldedIn(x: Channel, { taps, first }: Kernel, rate_Hz: number, spans: readonly Span[]): Float64Array {
  const output = new Float64Array(x.length);
  for (const { from_s, to_s } of spans) {
    const end = Math.min(x.length, Math.ceil(to_s * rate_Hz));
    for (let n = Math.max(0, Math.floor(from_s * rate_Hz)); n < end; n++) {
      let sum = 0;
      const last = n - first;
      const k0 = Math.max(0, last - x.length + 1);
      const k1 = Math.min(taps.length, last + 1);
      for (let k = k0; k < k1; k++) sum += taps[k]! * x[last - k]!;
      output[n] = sum;
    }
  }
  return output;
}
