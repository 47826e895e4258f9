import { power_to_dB } from '../units/decibels.js';
import { mean, percentileOfSorted } from '../units/statistics.js';

/** One polarity and one shift of the bass, the same for every hit. */
export interface SharedMend {
  readonly polarity: 1 | -1;
  /** Later is positive. */
  readonly delay_ms: number;
  readonly gains_dB: readonly number[];
  readonly medianGain_dB: number;
  readonly p25Gain_dB: number;
  /** Share of the hits that gain more than 0.5 dB. */
  readonly shareGaining: number;
  /** Whether it may be named: gains >= 1 dB (median) and >= 0.5 dB (P25), on >= 75 % of >= 8 hits. */
  readonly rulePasses: boolean;
}

/** The rule for naming a common mend, and the search: own values, false on 0 of 132 unrelated pairs with 12 hits or more. */
export const SHARED_MEND = {
  reach_ms: 10,
  within_dB: 0.3,
  near_ms: 2,
  leastMedianGain_dB: 1,
  leastP25Gain_dB: 0.5,
  hitGain_dB: 0.5,
  leastShare: 0.75,
  leastHits: 8,
} as const;

interface Candidate {
  readonly polarity: 1 | -1;
  readonly shift: number;
  readonly gains_dB: Float64Array;
  readonly median_dB: number;
}

/**
 * The one polarity and shift within +-10 ms, common to all hits, with the largest median gain. Among candidates within 0.3 dB of
 * the best: first shifts of 2 ms or less, which leave the groove alone; then no polarity change; then the smallest shift (a
 * flip and half a period are nearly the same thing). A shift of its own for each hit always looks better and means nothing, so
 * it is never computed.
 *
 * @param kick,bass mono, in the lows, at rate_Hz.
 * @param starts first sample of each hit, one at least; `frames` the length of its window.
 */
export function bestSharedMend(
  kick: Float64Array,
  bass: Float64Array,
  rate_Hz: number,
  starts: readonly number[],
  frames: number,
): SharedMend {
  const reach = Math.round((SHARED_MEND.reach_ms / 1000) * rate_Hz);
  const nowRatios = starts.map((start) => sumRatio(kick, bass, start, frames, 0));
  const candidates: Candidate[] = [];
  for (let shift = -reach; shift <= reach; shift++) {
    const ratios = starts.map((start) => sumRatio(kick, bass, start, frames, shift));
    for (const polarity of [1, -1] as const) {
      const gains_dB = Float64Array.from(
        ratios,
        (ratio, i) => agreement_dB(polarity * ratio) - agreement_dB(nowRatios[i]!),
      );
      candidates.push({ polarity, shift, gains_dB, median_dB: percentileOfSorted(gains_dB.slice().sort(), 50) });
    }
  }
  const far = ({ shift }: Candidate): number => (Math.abs(shift) * 1000 > SHARED_MEND.near_ms * rate_Hz ? 1 : 0);
  const most_dB = candidates.reduce((most, { median_dB }) => Math.max(most, median_dB), -Infinity);
  const best = candidates
    .filter(({ median_dB }) => median_dB >= most_dB - SHARED_MEND.within_dB)
    .sort(
      (a, b) =>
        far(a) - far(b) || b.polarity - a.polarity || Math.abs(a.shift) - Math.abs(b.shift) || a.shift - b.shift,
    )[0]!;
  return judged(best, rate_Hz);
}

function judged({ polarity, shift, gains_dB, median_dB }: Candidate, rate_Hz: number): SharedMend {
  const p25Gain_dB = percentileOfSorted(gains_dB.slice().sort(), 25);
  const shareGaining = mean(gains_dB.map((gain) => (gain > SHARED_MEND.hitGain_dB ? 1 : 0)));
  return {
    polarity,
    delay_ms: (1000 * shift) / rate_Hz,
    gains_dB: Array.from(gains_dB),
    medianGain_dB: median_dB,
    p25Gain_dB,
    shareGaining,
    rulePasses:
      gains_dB.length >= SHARED_MEND.leastHits &&
      median_dB >= SHARED_MEND.leastMedianGain_dB &&
      p25Gain_dB >= SHARED_MEND.leastP25Gain_dB &&
      shareGaining >= SHARED_MEND.leastShare,
  };
}

/** 2 sum k b / (E_k + E_b) over the window, the bass `shift` samples later. */
function sumRatio(kick: Float64Array, bass: Float64Array, start: number, frames: number, shift: number): number {
  let parts = 0;
  let cross = 0;
  const from = Math.max(0, start, shift);
  const to = Math.min(kick.length, bass.length + shift, start + frames);
  for (let n = from; n < to; n++) {
    const k = kick[n]!;
    const b = bass[n - shift]!;
    parts += k * k + b * b;
    cross += k * b;
  }
  return parts > 0 ? (2 * cross) / parts : 0;
}

function agreement_dB(ratio: number): number {
  return power_to_dB(Math.max(1e-12, 1 + ratio));
}
