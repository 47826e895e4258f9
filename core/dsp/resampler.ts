import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { dotProduct, PhaseFilter, reducedRatio } from './phase-filter.js';

/**
 * The same sound at another rate: a linear-phase low-pass between the two grids, its delay taken out, so that sample n of the
 * result stands at time n / rate. Any two whole rates.
 *
 *   y[n] = sum over k of x[k] h(n M / L - k),  L / M = to / from in lowest terms
 *   h(t) = 2 c sinc(2 c t) kaiser(t / T),      c = 0.475 of the lower rate
 *
 * Pass band to 0.45 of the lower rate within +-0.01 dB; images and aliases at most -110 dB from 0.5 of it up. Each phase of the
 * filter sums to 1, so that DC passes exactly.
 *
 * Sources: R. E. Crochiere, L. R. Rabiner, "Multirate Digital Signal Processing", 1983 (rational conversion by polyphase
 * filters); J. F. Kaiser, ISCAS 1974 (window, and its length and beta for a depth of stop band).
 *
 * @returns ceil(length * to / from) samples; mono stays mono, equal rates give the signal itself.
 * @throws RangeError where a rate is not a whole number above 0.
 */
export function resampled(signal: StereoSignal, to_Hz: number): StereoSignal {
  if (signal.sampleRate_Hz === to_Hz) return signal;
  const left = resampledChannel(signal.left, signal.sampleRate_Hz, to_Hz);
  const right = isMono(signal) ? left : resampledChannel(signal.right, signal.sampleRate_Hz, to_Hz);
  return { left, right, sampleRate_Hz: to_Hz };
}

/** One channel, see `resampled`. */
export function resampledChannel(samples: Channel, from_Hz: number, to_Hz: number): Float64Array {
  const { up, down } = reducedRatio(from_Hz, to_Hz);
  const filter = new PhaseFilter(from_Hz, Math.min(from_Hz, to_Hz));
  const padded = padEnds(samples, filter.half);
  const output = new Float64Array(Math.ceil((samples.length * up) / down));
  // output n stands n * down / up input samples in; all outputs of one phase share their taps
  for (let phase = 0; phase < up && phase < output.length; phase++) {
    const offset = (phase * down) % up;
    const taps = filter.tapsAt(offset / up);
    const first = (phase * down - offset) / up;
    for (let n = phase, at = first; n < output.length; n += up, at += down) output[n] = dotProduct(taps, padded, at);
  }
  return output;
}

/** Zeros for the filter to reach into, half its length before and after. */
function padEnds(samples: Channel, half: number): Float64Array {
  const padded = new Float64Array(samples.length + 2 * half);
  padded.set(samples, half - 1);
  return padded;
}
