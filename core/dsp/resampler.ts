import { sin } from '../units/exact-math.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { besselI0 } from './kaiser-window.js';

/** Edges of the transition, as shares of the lower rate, and the depth of the stop band the window is designed for. */
const PASS = 0.45;
const STOP = 0.5;
const DESIGN_DEPTH_DB = 118;

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
  if (!isWholeRate(from_Hz) || !isWholeRate(to_Hz)) {
    throw new RangeError(`rates must be whole numbers above 0, got ${from_Hz} and ${to_Hz}`);
  }
  const divisor = greatestCommonDivisor(from_Hz, to_Hz);
  const up = to_Hz / divisor;
  const down = from_Hz / divisor;
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

/** Four sums side by side: the order of additions is fixed, so the result is the same everywhere. */
function dotProduct(taps: Float64Array, samples: Float64Array, at: number): number {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  for (let k = 0; k < taps.length; k += 4) {
    a += taps[k]! * samples[at + k]!;
    b += taps[k + 1]! * samples[at + k + 1]!;
    c += taps[k + 2]! * samples[at + k + 2]!;
    d += taps[k + 3]! * samples[at + k + 3]!;
  }
  return a + b + (c + d);
}

/** The low-pass, sampled on the input's grid at any fraction of a sample. */
class PhaseFilter {
  /** Taps on each side; their sum is a multiple of 4. */
  readonly half: number;
  private readonly reach: number;
  private readonly corner: number;
  private readonly beta: number;
  private readonly windowPeak: number;

  constructor(from_Hz: number, lower_Hz: number) {
    const ratio = lower_Hz / from_Hz;
    const width_radians = 2 * Math.PI * (STOP - PASS) * ratio;
    this.reach = (DESIGN_DEPTH_DB - 7.95) / (2.285 * width_radians) / 2;
    this.half = 2 * Math.ceil((this.reach + 1) / 2);
    this.corner = 0.5 * (PASS + STOP) * ratio;
    this.beta = 0.1102 * (DESIGN_DEPTH_DB - 8.7);
    this.windowPeak = besselI0(this.beta);
  }

  /** Taps for an output that stands `fraction` of a sample after input sample `half - 1` of their span. */
  tapsAt(fraction: number): Float64Array {
    const taps = new Float64Array(2 * this.half);
    let sum = 0;
    for (let k = 0; k < taps.length; k++) {
      taps[k] = this.impulseAt(fraction - (k - this.half + 1));
      sum += taps[k]!;
    }
    for (let k = 0; k < taps.length; k++) taps[k]! /= sum;
    return taps;
  }

  private impulseAt(time: number): number {
    const place = time / this.reach;
    const inside = 1 - place * place;
    if (inside <= 0) return 0;
    const angle = 2 * Math.PI * this.corner * time;
    const sinc = angle === 0 ? 1 : sin(angle) / angle;
    return (sinc * besselI0(this.beta * Math.sqrt(inside))) / this.windowPeak;
  }
}

function isWholeRate(rate_Hz: number): boolean {
  return Number.isInteger(rate_Hz) && rate_Hz > 0;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
