import type { Channel } from '../signal/stereo-signal.js';
import { median, percentile } from '../units/statistics.js';

export interface OnsetDistance {
  /** Median over the onsets; positive where the second sound starts later. */
  readonly distance_ms: number;
  /** Distance between its quartiles. */
  readonly iqr_ms: number;
  readonly count: number;
}

const BEFORE_S = 0.012;
const AFTER_S = 0.06;
/** What sounds before an onset may reach this share of its peak. */
const QUIET_BEFORE = 0.08;
const LEAST_ONSETS = 4;
/** Onsets that scatter more than this keep no one distance. */
const LARGEST_IQR_ms = 1;

/**
 * Median distance between the onsets of two sounds: for each time the first sample at 10 % of the peak within -12..+60 ms.
 * Only onsets out of quiet count (the 12 ms before hold no more than 8 % of the peak, in both sounds).
 *
 * @returns null where fewer than four onsets can be told, or where they keep no one distance (quartiles over 1 ms apart).
 */
export function onsetDistance(
  reference: Channel,
  samples: Channel,
  sampleRate_Hz: number,
  times_s: readonly number[],
): OnsetDistance | null {
  const distances_ms = times_s.flatMap((time_s) => {
    const from = onsetNear(reference, sampleRate_Hz, time_s);
    const to = onsetNear(samples, sampleRate_Hz, time_s);
    return from === null || to === null ? [] : [(1000 * (to - from)) / sampleRate_Hz];
  });
  if (distances_ms.length < LEAST_ONSETS) return null;
  const iqr_ms = percentile(distances_ms, 75) - percentile(distances_ms, 25);
  if (iqr_ms > LARGEST_IQR_ms) return null;
  return { distance_ms: median(distances_ms), iqr_ms, count: distances_ms.length };
}

/** First sample at 10 % of the peak around a time, or null where the sound does not start out of quiet there. */
function onsetNear(samples: Channel, sampleRate_Hz: number, time_s: number): number | null {
  const from = Math.max(0, Math.round((time_s - 2 * BEFORE_S) * sampleRate_Hz));
  const search = Math.max(0, Math.round((time_s - BEFORE_S) * sampleRate_Hz));
  const to = Math.min(samples.length, Math.round((time_s + AFTER_S) * sampleRate_Hz));
  let peak = 0;
  for (let n = search; n < to; n++) peak = Math.max(peak, Math.abs(samples[n]!));
  if (peak === 0) return null;
  for (let n = from; n < search; n++) if (Math.abs(samples[n]!) > QUIET_BEFORE * peak) return null;
  for (let n = search; n < to; n++) if (Math.abs(samples[n]!) >= 0.1 * peak) return n === search && n > 0 ? null : n;
  return null;
}
