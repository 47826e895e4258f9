import { cos, exp, sin } from '../units/exact-math.js';
import type { Hertz } from '../units/units.js';
import { kaiser } from './kaiser-window.js';

/**
 * Taps of zero-phase filters that have the magnitude of well-known recursive ones, in closed form: one side only, `side[0]`
 * the centre, `side[k]` the taps at -k and +k. They are written into a buffer of the caller, so that they can be made on the
 * audio thread. All are the inverse Fourier transform of a rational magnitude by residues, sampled and divided by the rate;
 * what folds back at half the rate is under -110 dB for the fourth-order shape at corners to 700 Hz.
 */

/** Slope of a split: the exponent of f/fc is 2, 4 or 8. 24 is the shape of a fourth-order Linkwitz-Riley filter. */
export type SlopeDbPerOctave = 12 | 24 | 48;

/** Taps on each side of the centre of a low-pass: 3.4 fs/fc, whole. 300 Hz at 48 kHz: 544, so 1089 taps in all. */
export function lowPassSideLength(corner_Hz: Hertz, sampleRate_Hz: Hertz): number {
  return Math.round((3.4 * sampleRate_Hz) / corner_Hz);
}

/**
 * Low-pass LP(f) = 1 / (1 + (f/fc)^n), n = slope / 6; the high-pass that goes with it is the centre sample less this.
 *   h(t) = (2 pi fc / n) sum over j < n/2 of e^(-w sin a) sin(a + w cos a),  a = pi (2j + 1)/n,  w = 2 pi fc |t|
 * under a Kaiser window of beta 4, scaled so that the gain at 0 Hz is exactly 1 (up to rounding).
 * Source: residue theorem on the poles of the squared Butterworth magnitude; S. P. Lipshitz, J. Vanderkooy, "A Family of
 * Linear-Phase Crossover Networks of High Slope Derived by Time Delay", JAES 31(1/2), 1983, for the idea (from memory).
 *
 * @returns taps on each side of the centre; `side` must hold one more.
 */
export function writeLowPassSide(
  side: Float64Array,
  corner_Hz: Hertz,
  sampleRate_Hz: Hertz,
  slope: SlopeDbPerOctave,
): number {
  const length = Math.min(side.length - 1, lowPassSideLength(corner_Hz, sampleRate_Hz));
  const order = slope / 6;
  const step = (2 * Math.PI * corner_Hz) / sampleRate_Hz;
  side.fill(0);
  for (let pole = 0; pole < order / 2; pole++) {
    const angle = (Math.PI * (2 * pole + 1)) / order;
    addDampedSine(side, length, sin(angle) * step, cos(angle) * step, sin(angle), cos(angle));
  }
  let sum = 0;
  for (let k = 0; k <= length; k++) {
    side[k] = side[k]! * windowAt(k / length);
    sum += k === 0 ? side[0]! : 2 * side[k]!;
  }
  for (let k = 0; k <= length; k++) side[k] = side[k]! / sum;
  return length;
}

/** Adds e^(-damping k) sin(a + turn k), k = 0..length, by complex multiplication from sample to sample. */
function addDampedSine(
  side: Float64Array,
  length: number,
  damping: number,
  turn: number,
  sinStart: number,
  cosStart: number,
): void {
  const decay = exp(-damping);
  const stepRe = decay * cos(turn);
  const stepIm = decay * sin(turn);
  let re = cosStart;
  let im = sinStart;
  for (let k = 0; k <= length; k++) {
    side[k] = side[k]! + im;
    const turned = re * stepRe - im * stepIm;
    im = re * stepIm + im * stepRe;
    re = turned;
  }
}

/** Quality of a band of the given width between its half-power points: Q = sqrt(2^w) / (2^w - 1). 1 octave: 1.414. */
export function bandQuality(width_oct: number): number {
  const ratio = exp(width_oct * Math.LN2);
  return Math.sqrt(ratio) / (ratio - 1);
}

/** Taps on each side of a band's centre tap: to where its envelope has fallen by 80 dB (e^-9.2); 78 ms at 53 Hz, 1 octave. */
export function bandSideLength(centre_Hz: Hertz, width_oct: number, sampleRate_Hz: Hertz): number {
  return Math.round((9.2 / slowestDamping(bandQuality(width_oct))) * (sampleRate_Hz / (2 * Math.PI * centre_Hz)));
}

/** Damping per radian of the centre frequency of the slowest pole. */
function slowestDamping(quality: number): number {
  const half = 1 / (2 * quality);
  return half <= 1 ? half : half - Math.sqrt(half * half - 1);
}

/**
 * Band-pass of gain 1 at its centre: B(f) = 1 / (1 + (Q (f/f0 - f0/f))^2), zero phase.
 *   Q > 1/2:  h(t) = pi f0 / (Q^2 sin 2a) e^(-w sin a) cos(a + w cos a),   sin a = 1/(2Q),  w = 2 pi f0 |t|
 *   Q < 1/2:  h(t) = pi f0 / (Q^2 (p^2 - q^2)) (p e^(-w p) - q e^(-w q)),  p, q = 1/(2Q) +- sqrt(1/(4Q^2) - 1)
 * cut where the envelope is 80 dB down and scaled so that the gain at f0 is exactly 1 (up to rounding).
 * Source: residue theorem; the magnitude is that of the constant-peak band-pass of the RBJ Audio EQ Cookbook, squared.
 *
 * @returns taps on each side of the centre; `side` must hold one more.
 */
export function writeBandSide(side: Float64Array, centre_Hz: Hertz, width_oct: number, sampleRate_Hz: Hertz): number {
  const length = Math.min(side.length - 1, bandSideLength(centre_Hz, width_oct, sampleRate_Hz));
  const step = (2 * Math.PI * centre_Hz) / sampleRate_Hz;
  const half = 1 / (2 * bandQuality(width_oct));
  side.fill(0);
  if (half < 1) {
    const along = Math.sqrt(1 - half * half);
    addDampedSine(side, length, half * step, along * step, along, -half); // cos(a + x) = sin(a + pi/2 + x)
  } else {
    const root = Math.sqrt(half * half - 1);
    addDecay(side, length, (half + root) * step, half + root);
    addDecay(side, length, (half - root) * step, -(half - root));
  }
  scaleToUnityAt(side, length, step);
  return length;
}

function addDecay(side: Float64Array, length: number, damping: number, start: number): void {
  const decay = exp(-damping);
  let value = start;
  for (let k = 0; k <= length; k++) {
    side[k] = side[k]! + value;
    value *= decay;
  }
}

function scaleToUnityAt(side: Float64Array, length: number, step: number): void {
  let gain = side[0]!;
  for (let k = 1; k <= length; k++) gain += 2 * side[k]! * cos(k * step);
  for (let k = 0; k <= length; k++) side[k] = side[k]! / gain;
}

const WINDOW_STEPS = 4096;
/** Kaiser window of beta 4 over 0..1, tabled: straight lines between its points err by under 1e-7. */
const WINDOW_TABLE = Float64Array.from({ length: WINDOW_STEPS + 2 }, (_, i) =>
  kaiser(Math.min(1, i / WINDOW_STEPS), 4),
);

function windowAt(position: number): number {
  const place = position * WINDOW_STEPS;
  const index = Math.floor(place);
  const low = WINDOW_TABLE[index]!;
  return low + (place - index) * (WINDOW_TABLE[index + 1]! - low);
}

/** Low-pass taps, both sides, in a new array, centre in the middle: see `writeLowPassSide`. */
export function lowPassTaps(corner_Hz: Hertz, sampleRate_Hz: Hertz, slope: SlopeDbPerOctave): Float64Array {
  const side = new Float64Array(lowPassSideLength(corner_Hz, sampleRate_Hz) + 1);
  writeLowPassSide(side, corner_Hz, sampleRate_Hz, slope);
  return mirrored(side);
}

/** Band-pass taps, both sides, in a new array, centre in the middle: see `writeBandSide`. */
export function bandTaps(centre_Hz: Hertz, width_oct: number, sampleRate_Hz: Hertz): Float64Array {
  const side = new Float64Array(bandSideLength(centre_Hz, width_oct, sampleRate_Hz) + 1);
  writeBandSide(side, centre_Hz, width_oct, sampleRate_Hz);
  return mirrored(side);
}

function mirrored(side: Float64Array): Float64Array {
  const length = side.length - 1;
  const taps = new Float64Array(2 * length + 1);
  for (let k = 0; k <= length; k++) {
    taps[length + k] = side[k]!;
    taps[length - k] = side[k]!;
  }
  return taps;
}
