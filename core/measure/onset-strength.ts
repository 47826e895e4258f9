import { RealFft } from '../dsp/fft.js';
import { hannWindow } from '../dsp/hann.js';
import { exp2 } from '../units/exact-math.js';
import { dB_to_power, power_to_dB } from '../units/decibels.js';
import { percentile } from '../units/statistics.js';
import type { AnalysisChannel } from './analysis-channel.js';

/** How strongly the spectrum rises; frame n is centred on n * hop_s. */
export interface OnsetStrength {
  readonly hop_s: number;
  /** Mean rise over the bands, dB. */
  readonly rise_dB: Float64Array;
  /** The same over the bands from 600 Hz up alone. */
  readonly highRise_dB: Float64Array;
}

const HOP_S = 0.005;
const WINDOW_S = 0.064;
const LOWEST_HZ = 28;
const HIGHEST_HZ = 3500;
const BANDS_PER_OCTAVE = 24;
const HIGH_FROM_HZ = 600;
const RANGE_DB = 55;
const RISE_FRAMES = 4;

/**
 * Log-spectral rise against the maximum of a band and its neighbours 20 ms before, which keeps vibrato and slides from
 * reading as onsets. S. Boeck and G. Widmer, "Maximum Filter Vibrato Suppression for Onset Detection", DAFx-13, 2013. Hann 64 ms,
 * hop 5 ms, 24 bands per octave, 28-3500 Hz, dB with a floor 55 dB under the peak.
 */
export function onsetStrength(channel: AnalysisChannel): OnsetStrength {
  const { bands, powers, frameCount } = bandPowers(channel);
  const count = bands.length;
  const firstHigh = bands.findIndex((band) => band.centre_Hz >= HIGH_FROM_HZ);
  const rise_dB = new Float64Array(frameCount);
  const highRise_dB = new Float64Array(frameCount);
  for (let n = 1; n < frameCount; n++) {
    const now = powers.subarray(n * count, (n + 1) * count);
    const before = Math.max(0, n - RISE_FRAMES) * count;
    const past = powers.subarray(before, before + count);
    const low = sumOfRises(now, past, 0, firstHigh);
    const high = sumOfRises(now, past, firstHigh, count);
    rise_dB[n] = (low + high) / count;
    highRise_dB[n] = high / (count - firstHigh);
  }
  return { hop_s: HOP_S, rise_dB, highRise_dB };
}

/** A product of ratios up to here can take one more without passing the largest number. */
const LARGEST_PRODUCT = 1e200;

/** Rises of some bands over the past's neighbourhood, added: the level of the product of their ratios, one logarithm for all. */
function sumOfRises(now: Float32Array, past: Float32Array, first: number, end: number): number {
  let sum_dB = 0;
  let product = 1;
  for (let b = first; b < end; b++) {
    let highest = past[b]!;
    if (b > 0 && past[b - 1]! > highest) highest = past[b - 1]!;
    if (b < past.length - 1 && past[b + 1]! > highest) highest = past[b + 1]!;
    if (!(now[b]! > highest)) continue;
    product *= now[b]! / highest;
    if (product < LARGEST_PRODUCT) continue;
    sum_dB += power_to_dB(product);
    product = 1;
  }
  return sum_dB + power_to_dB(product);
}

/** A triangle over FFT bins, at least one bin to either side. */
interface Band {
  readonly centre_Hz: number;
  readonly firstBin: number;
  readonly weights: Float64Array;
}

function bandPowers(channel: AnalysisChannel): { bands: Band[]; powers: Float32Array; frameCount: number } {
  const { samples, sampleRate_Hz } = channel;
  const length = Math.round(WINDOW_S * sampleRate_Hz);
  let size = 2;
  while (size < length) size *= 2;
  const bands = logBands(sampleRate_Hz / size);
  const frameCount = Math.floor(samples.length / sampleRate_Hz / HOP_S) + 1;
  const powers = new Float32Array(frameCount * bands.length);
  const fft = new RealFft(size);
  const window = hannWindow(length);
  const frame = new Float64Array(length);
  const re = new Float64Array(fft.binCount);
  const im = new Float64Array(fft.binCount);
  for (let n = 0; n < frameCount; n++) {
    const from = Math.round(n * HOP_S * sampleRate_Hz) - (length >> 1);
    const first = Math.min(length, Math.max(0, -from));
    const last = Math.max(first, Math.min(length, samples.length - from));
    frame.fill(0, 0, first);
    for (let i = first; i < last; i++) frame[i] = samples[from + i]! * window[i]!;
    frame.fill(0, last);
    fft.forward(frame, re, im);
    for (let k = 0; k < re.length; k++) re[k] = re[k]! * re[k]! + im[k]! * im[k]!;
    for (let b = 0; b < bands.length; b++) powers[n * bands.length + b] = bandPower(re, bands[b]!);
  }
  raiseToFloor(powers, bands.length);
  return { bands, powers, frameCount };
}

function bandPower(bins: Float64Array, { firstBin, weights }: Band): number {
  let power = 0;
  for (let i = 0; i < weights.length; i++) power += weights[i]! * bins[firstBin + i]!;
  return power;
}

function logBands(bin_Hz: number): Band[] {
  const bands: Band[] = [];
  for (let b = 0; ; b++) {
    const centre_Hz = LOWEST_HZ * exp2(b / BANDS_PER_OCTAVE);
    if (centre_Hz > HIGHEST_HZ) return bands;
    const reach_Hz = Math.max(bin_Hz, centre_Hz * (exp2(1 / BANDS_PER_OCTAVE) - 1));
    const firstBin = Math.ceil((centre_Hz - reach_Hz) / bin_Hz);
    const lastBin = Math.floor((centre_Hz + reach_Hz) / bin_Hz);
    const weights = Float64Array.from({ length: lastBin - firstBin + 1 }, (_, i) =>
      Math.max(0, 1 - Math.abs((firstBin + i) * bin_Hz - centre_Hz) / reach_Hz),
    );
    bands.push({ centre_Hz, firstBin, weights });
  }
}

/** The floor stands 55 dB under the loudest bands of loud frames (the 99 % point of each frame's peak). */
function raiseToFloor(powers: Float32Array, bandCount: number): void {
  const peaks = new Float64Array(powers.length / bandCount);
  for (let n = 0; n < peaks.length; n++) {
    let peak = 1e-20;
    for (let i = n * bandCount; i < (n + 1) * bandCount; i++) if (powers[i]! > peak) peak = powers[i]!;
    peaks[n] = peak;
  }
  const floor = Math.max(1e-20, dB_to_power(percentile(peaks.map(power_to_dB), 99) - RANGE_DB));
  for (let i = 0; i < powers.length; i++) if (powers[i]! < floor) powers[i] = floor;
}
