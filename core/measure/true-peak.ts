import { kaiser } from '../dsp/kaiser-window.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { amplitude_to_dB } from '../units/decibels.js';
import { sin } from '../units/exact-math.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';

/** Interpolated points per sample: reads at most 0.04 dB low at 0.45 of the rate, 20 lg cos(pi 0.45 / 16). */
const PHASES = 16;
/** Samples on either side of the interpolated point. */
const HALF = 16;
const TAPS = 2 * HALF;
const BETA = 7;
/** Samples per segment over which the search bounds what may lie between them. */
const SEGMENT = 32;
/** Samples on either side of a stretch that `truePeak_FS` may look at. */
export const TRUE_PEAK_CONTEXT = 2 * SEGMENT + HALF;

/** Kaiser-windowed sinc, one row of TAPS per phase 1..PHASES-1, each scaled to gain 1 at 0 Hz. */
const ROWS = makeRows();

/**
 * For every row: y = the straight line between the two samples + sum of c[k] times second differences. This is the largest
 * sum |c| of all rows, so that |y| <= max of the two + CURVE * the largest second difference in reach.
 */
const CURVE = makeCurveBound();

/** Largest sum of magnitudes of a row: no point lies further out than this times the largest sample in reach. */
const SPREAD = makeSpread();

/**
 * True peak of a stretch of one channel, full scale 1: the largest magnitude at 16 points per sample (Recommendation
 * ITU-R BS.1770-5, Annex 2, asks for 4). What lies outside `from..to` is used as context; beyond the signal is silence.
 *
 * Only the samples whose neighbourhood could exceed the largest magnitude found so far are interpolated, by the bounds at SPREAD
 * (which needs the samples' magnitudes alone) and at CURVE.
 * @param atLeast a magnitude already found elsewhere; the result is never under it.
 */
export function truePeak_FS(samples: Channel, from = 0, to: number = samples.length, atLeast = 0): number {
  const sizes = new Float64Array(Math.ceil((to - from) / SEGMENT) + 2);
  for (let i = 0; i < sizes.length; i++) {
    const start = from + (i - 1) * SEGMENT;
    sizes[i] = largestSize(
      samples,
      start,
      i > 0 && i < sizes.length - 1 ? Math.min(start + SEGMENT, to) : start + SEGMENT,
    );
  }
  let peak = atLeast;
  for (let i = 1; i < sizes.length - 1; i++) if (sizes[i]! > peak) peak = sizes[i]!;
  const top = peak;
  for (let i = 1; i < sizes.length - 1; i++) {
    if (sizes[i] === top) peak = segmentPeak(samples, from + (i - 1) * SEGMENT, to, peak);
  }
  for (let i = 1; i < sizes.length - 1; i++) {
    const before = sizes[i - 1]!;
    const after = sizes[i + 1]!;
    let largest = sizes[i]! > before ? sizes[i]! : before;
    if (after > largest) largest = after;
    if (sizes[i] !== top && SPREAD * largest > peak) {
      peak = segmentPeak(samples, from + (i - 1) * SEGMENT, to, peak);
    }
  }
  return peak;
}

/** The larger of `peak` and all points of the segment that begins at `start`, which ends before `to`. */
function segmentPeak(samples: Channel, start: number, to: number, peak: number): number {
  const end = Math.min(start + SEGMENT, to);
  const reach = CURVE * largestBend(samples, start - HALF, end + HALF);
  let largest = peak;
  for (let n = start; n < end; n++) {
    const a = Math.abs(samples[n]!);
    const b = n + 1 < samples.length ? Math.abs(samples[n + 1]!) : 0;
    if ((a > b ? a : b) + reach > largest) largest = peakAfter(samples, n, largest);
  }
  return largest;
}

/** Largest magnitude in a stretch, what lies outside the signal left out. */
function largestSize(samples: Channel, from: number, to: number): number {
  const last = Math.min(to, samples.length);
  let largest = 0;
  for (let n = Math.max(from, 0); n < last; n++) {
    const size = samples[n]! < 0 ? -samples[n]! : samples[n]!;
    if (size > largest) largest = size;
  }
  return largest;
}

/** True peak of a stereo signal, the larger of both channels; unmeasurable in silence. */
export function truePeak_dBTP(signal: StereoSignal): Reading {
  const left = truePeak_FS(signal.left);
  const peak = isMono(signal) ? left : truePeak_FS(signal.right, 0, signal.right.length, left);
  return peak > 0 ? figure(amplitude_to_dB(peak)) : unmeasurable('silent');
}

/** Largest |x[n-1] - 2 x[n] + x[n+1]| in a stretch. */
function largestBend(samples: Channel, from: number, to: number): number {
  const first = Math.max(from, 0);
  const last = Math.min(to, samples.length);
  let largest = 0;
  for (let n = first; n < last; n++) {
    const before = n > 0 ? samples[n - 1]! : 0;
    const after = n + 1 < samples.length ? samples[n + 1]! : 0;
    const bend = before - 2 * samples[n]! + after;
    if (bend > largest) largest = bend;
    else if (-bend > largest) largest = -bend;
  }
  return largest;
}

/** The larger of `peak` and all points between sample n and n + 1. */
function peakAfter(samples: Channel, n: number, peak: number): number {
  const first = n - HALF + 1;
  const from = first < 0 ? -first : 0;
  const to = first + TAPS > samples.length ? samples.length - first : TAPS;
  for (let row = 0; row < ROWS.length; row += TAPS) {
    let sum = 0;
    for (let k = from; k < to; k++) sum += ROWS[row + k]! * samples[first + k]!;
    if (sum > peak) peak = sum;
    else if (-sum > peak) peak = -sum;
  }
  return peak;
}

function makeRows(): Float64Array {
  const rows = new Float64Array((PHASES - 1) * TAPS);
  for (let phase = 1; phase < PHASES; phase++) {
    const row = rows.subarray((phase - 1) * TAPS, phase * TAPS);
    let sum = 0;
    for (let k = 0; k < TAPS; k++) {
      const distance = k - (HALF - 1) - phase / PHASES;
      const value = (sin(Math.PI * distance) / (Math.PI * distance)) * kaiser(distance / HALF, BETA);
      row[k] = value;
      sum += value;
    }
    for (let k = 0; k < TAPS; k++) row[k]! /= sum;
  }
  return rows;
}

function makeCurveBound(): number {
  let largest = 0;
  for (let phase = 1; phase < PHASES; phase++) {
    let slope = 0;
    let value = 0;
    let total = 0;
    for (let k = 0; k < TAPS; k++) {
      const line = k === HALF - 1 ? 1 - phase / PHASES : k === HALF ? phase / PHASES : 0;
      slope += ROWS[(phase - 1) * TAPS + k]! - line;
      value += slope;
      total += Math.abs(value);
    }
    largest = Math.max(largest, total);
  }
  return largest;
}

function makeSpread(): number {
  let largest = 1;
  for (let row = 0; row < ROWS.length; row += TAPS) {
    let total = 0;
    for (let k = row; k < row + TAPS; k++) total += Math.abs(ROWS[k]!);
    largest = Math.max(largest, total);
  }
  return largest;
}
