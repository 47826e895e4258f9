import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import type { Hit } from '../song/song.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';
import { median, percentile } from '../units/statistics.js';
import type { AnalysisChannel } from './analysis-channel.js';

const LEAST_ROOM_S = 0.3;
const LONGEST_S = 3;

/**
 * Decay of the kick in ms: the time in which the backward energy integral of 30-200 Hz falls by 20 dB, up to 10 ms before the
 * next hit, the median over hits with at least 300 ms of room. An exponential of time constant tau reads 2.303 tau.
 * M. R. Schroeder, "New Method of Measuring Reverberation Time", JASA 37(3), 1965.
 */
export function kickDecay(channel: AnalysisChannel, hits: readonly Hit[]): Reading {
  const { samples, sampleRate_Hz } = channel;
  const end_s = samples.length / sampleRate_Hz;
  const roomy = hits.filter((hit, i) => (hits[i + 1]?.time_s ?? end_s) - hit.time_s >= LEAST_ROOM_S);
  if (hits.length === 0) return unmeasurable('There are no kick hits.');
  if (roomy.length === 0) return unmeasurable('No hit has 300 ms to ring before the next.');
  const lows = filteredBothWays(
    samples,
    butterworthBandPass(2, 30, 200, sampleRate_Hz),
    Math.round(0.2 * sampleRate_Hz),
  );
  const times = roomy.map((hit) => {
    const next = hits.find((other) => other.time_s > hit.time_s);
    const stop_s = Math.min(hit.time_s + LONGEST_S, next ? next.time_s - 0.01 : end_s);
    return fallTime_ms(lows, Math.round(hit.time_s * sampleRate_Hz), Math.round(stop_s * sampleRate_Hz), sampleRate_Hz);
  });
  return figure(median(times), { low: percentile(times, 5), high: percentile(times, 95) });
}

function fallTime_ms(samples: Float64Array, from: number, stop: number, sampleRate_Hz: number): number {
  const to = Math.min(stop, samples.length);
  let total = 0;
  for (let n = from; n < to; n++) total += samples[n]! * samples[n]!;
  let left = total;
  let n = from;
  while (n < to && left > 0.01 * total) {
    left -= samples[n]! * samples[n]!;
    n++;
  }
  return ((n - from) / sampleRate_Hz) * 1000;
}
