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

/** So many samples are looked at together: a whole number of segments, small enough to stay in the processor's own memory. */
const PIECE = 64 * SEGMENT;

/**
 * True peak of a stretch of one channel, full scale 1: the largest magnitude at 16 points per sample (Recommendation
 * ITU-R BS.1770-5, Annex 2, asks for 4). What lies outside `from..to` is used as context; beyond the signal is silence.
 *
 * Only the samples whose neighbourhood could exceed the largest magnitude found so far are interpolated, by the bounds at SPREAD
 * (which needs the samples' magnitudes alone) and at CURVE.
 * @param atLeast a magnitude already found elsewhere; the result is never under it.
 */
export function truePeak_FS(samples: Channel, from = 0, to: number = samples.length, atLeast = 0): number {
  const heard = new Float64Array(PIECE + 2 * TRUE_PEAK_CONTEXT);
  const sizes = new Float64Array(PIECE / SEGMENT + 2);
  let peak = atLeast;
  for (let start = from; start < to; start += PIECE) {
    hear(samples, start - TRUE_PEAK_CONTEXT, heard);
    peak = piecePeak(heard, Math.min(PIECE, to - start), sizes, peak);
  }
  return peak;
}

/** Copies a piece with its context, silence beyond the signal, so that the search meets one kind of array. */
function hear(samples: Channel, first: number, heard: Float64Array): void {
  const from = Math.max(0, first);
  const to = Math.max(from, Math.min(samples.length, first + heard.length));
  heard.fill(0, 0, from - first);
  heard.set(samples.subarray(from, to), from - first);
  heard.fill(0, to - first);
}

/** The larger of `peak` and all points of the first `count` samples after the context; the loudest segment is searched first. */
function piecePeak(heard: Float64Array, count: number, sizes: Float64Array, peak: number): number {
  const last = Math.ceil(count / SEGMENT);
  const end = TRUE_PEAK_CONTEXT + count;
  const startOf = (segment: number): number => TRUE_PEAK_CONTEXT + (segment - 1) * SEGMENT;
  let top = peak;
  for (let i = 0; i <= last + 1; i++) {
    const inside = i > 0 && i <= last;
    sizes[i] = largestSize(heard, startOf(i), inside ? Math.min(startOf(i + 1), end) : startOf(i + 1));
    if (inside && sizes[i]! > top) top = sizes[i]!;
  }
  let largest = top;
  for (let i = 1; i <= last; i++) if (sizes[i] === top) largest = segmentPeak(heard, startOf(i), end, largest);
  for (let i = 1; i <= last; i++) {
    if (sizes[i] === top) continue;
    const nearby = Math.max(sizes[i - 1]!, sizes[i]!, sizes[i + 1]!);
    if (SPREAD * nearby > largest) largest = segmentPeak(heard, startOf(i), end, largest);
  }
  return largest;
}

/** The larger of `peak` and all points of the segment that begins at `start`, which ends before `to`. */
function segmentPeak(heard: Float64Array, start: number, to: number, peak: number): number {
  const end = Math.min(start + SEGMENT, to);
  const reach = CURVE * largestBend(heard, start - HALF, end + HALF);
  let largest = peak;
  for (let n = start; n < end; n++) {
    const a = Math.abs(heard[n]!);
    const b = Math.abs(heard[n + 1]!);
    if ((a > b ? a : b) + reach > largest) largest = peakAfter(heard, n, largest);
  }
  return largest;
}

function largestSize(heard: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let n = from; n < to; n++) {
    const size = Math.abs(heard[n]!);
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
function largestBend(heard: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let n = from; n < to; n++) {
    const bend = Math.abs(heard[n - 1]! - 2 * heard[n]! + heard[n + 1]!);
    if (bend > largest) largest = bend;
  }
  return largest;
}

/** The larger of `peak` and all points between sample n and n + 1. */
function peakAfter(heard: Float64Array, n: number, peak: number): number {
  const first = n - HALF + 1;
  let largest = peak;
  for (let row = 0; row < ROWS.length; row += TAPS) {
    let sum = 0;
    for (let k = 0; k < TAPS; k++) sum += ROWS[row + k]! * heard[first + k]!;
    const size = Math.abs(sum);
    if (size > largest) largest = size;
  }
  return largest;
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
