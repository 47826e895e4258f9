import { RealFft } from '../dsp/fft.js';
import type { Hit } from '../song/song.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';
import { median, percentile } from '../units/statistics.js';
import type { AnalysisChannel } from './analysis-channel.js';

/**
 * Fundamental of the kick in Hz: the peak of |FFT|^2 in 30-150 Hz of each hit, no taper, from the hit until the energy still
 * to come has fallen by 40 dB, or the next hit; the median over hits. No taper, because a taper would weigh the pitch fall at
 * the start over the settled pitch after it (measured for this project). `low` and `high` are the 5 % and 95 % points over hits.
 * A kick whose peak is wider than 0.4 octave at half power has no settled pitch: its reading is the reason.
 */
export function kickFundamental(channel: AnalysisChannel, hits: readonly Hit[]): Reading {
  if (hits.length === 0) return unmeasurable('There are no kick hits.');
  const fft = new RealFft(sizeAtLeast(LONGEST_S * channel.sampleRate_Hz));
  const found = hits.map((hit, i) => hitFundamental(channel, fft, hit.time_s, hits[i + 1]?.time_s ?? Infinity));
  const settled = found.filter((peak) => peak !== null);
  if (settled.length === 0) return unmeasurable('The hits hold too little sound between 30 and 150 Hz.');
  const width = median(settled.map((peak) => peak.high_Hz / peak.low_Hz));
  if (width > WIDEST_RATIO) {
    const low = median(settled.map((peak) => peak.low_Hz)).toFixed(0);
    const high = median(settled.map((peak) => peak.high_Hz)).toFixed(0);
    return unmeasurable(`The kick has no settled pitch: its lows spread from ${low} to ${high} Hz.`);
  }
  const frequencies = settled.map((peak) => peak.frequency_Hz);
  return figure(median(frequencies), { low: percentile(frequencies, 5), high: percentile(frequencies, 95) });
}

/** 0.4 octave: kicks whose fall outlasts their body lie above, all that settle lie below (measured for this project). */
const WIDEST_RATIO = 1.3195079107728942;
const LONGEST_S = 2;

interface SpectralPeak {
  readonly frequency_Hz: number;
  readonly low_Hz: number;
  readonly high_Hz: number;
}

function hitFundamental(
  { samples, sampleRate_Hz }: AnalysisChannel,
  fft: RealFft,
  time_s: number,
  next_s: number,
): SpectralPeak | null {
  const from = Math.round(time_s * sampleRate_Hz);
  const limit_s = Math.min(time_s + LONGEST_S, next_s - 0.01);
  const to = fallenBy40dB(samples, from, Math.min(samples.length, Math.round(limit_s * sampleRate_Hz)));
  if (to - from < 0.03 * sampleRate_Hz) return null;
  const re = new Float64Array(fft.binCount);
  const im = new Float64Array(fft.binCount);
  fft.forward(samples.subarray(from, to), re, im);
  return peakBetween(re, im, sampleRate_Hz / fft.size);
}

function sizeAtLeast(length: number): number {
  let size = 2;
  while (size < length) size *= 2;
  return size;
}

function fallenBy40dB(samples: Float64Array, from: number, limit: number): number {
  let total = 0;
  for (let n = from; n < limit; n++) total += samples[n]! * samples[n]!;
  let left = 0;
  let to = limit;
  while (to > from) {
    left += samples[to - 1]! * samples[to - 1]!;
    if (left > 1e-4 * total) break;
    to--;
  }
  return to;
}

function peakBetween(re: Float64Array, im: Float64Array, bin_Hz: number): SpectralPeak | null {
  const power = (k: number): number => re[k]! * re[k]! + im[k]! * im[k]!;
  const first = Math.ceil(30 / bin_Hz);
  const last = Math.floor(150 / bin_Hz);
  let best = first;
  for (let k = first; k <= last; k++) if (power(k) > power(best)) best = k;
  const top = power(best);
  if (top <= 0) return null;
  let low = best;
  while (low > 1 && power(low) > top / 2) low--;
  let high = best;
  while (high < re.length - 1 && power(high) > top / 2) high++;
  const before = power(best - 1);
  const after = power(best + 1);
  const bend = before - 2 * top + after;
  const shift = bend < 0 ? (0.5 * (before - after)) / bend : 0;
  return { frequency_Hz: (best + shift) * bin_Hz, low_Hz: low * bin_Hz, high_Hz: high * bin_Hz };
}
