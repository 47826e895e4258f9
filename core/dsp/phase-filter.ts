import { sin } from '../units/exact-math.js';
import { besselI0 } from './kaiser-window.js';

/** Edges of the transition, as shares of the lower rate, and the depth of the stop band the window is designed for. */
const PASS = 0.45;
const STOP = 0.5;
const DESIGN_DEPTH_DB = 118;

/**
 * The low-pass of a conversion of rates, sampled on the input's grid at any fraction of a sample: `resampled` has its formula and
 * sources.
 */
export class PhaseFilter {
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

/** Four sums side by side: the order of additions is fixed, so the result is the same everywhere. */
export function dotProduct(taps: Float64Array, samples: Float64Array, at: number): number {
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

/** Output samples for input samples in lowest terms. @throws RangeError where a rate is not a whole number above 0. */
export function reducedRatio(from_Hz: number, to_Hz: number): { readonly up: number; readonly down: number } {
  if (!isWholeRate(from_Hz) || !isWholeRate(to_Hz)) {
    throw new RangeError(`rates must be whole numbers above 0, got ${from_Hz} and ${to_Hz}`);
  }
  const divisor = greatestCommonDivisor(from_Hz, to_Hz);
  return { up: to_Hz / divisor, down: from_Hz / divisor };
}

function isWholeRate(rate_Hz: number): boolean {
  return Number.isInteger(rate_Hz) && rate_Hz > 0;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
