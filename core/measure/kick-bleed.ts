import type { Hit } from '../song/song.js';
import { median } from '../units/statistics.js';
import type { AnalysisChannel } from './analysis-channel.js';
import type { NoteOnset } from './note-onsets.js';
import type { PitchTrack } from './pitch-yin.js';

const HIT_BEFORE_S = 0.035;
const HIT_AFTER_S = 0.045;
const SPAN_S = 0.04;
const BEFORE_S = 0.065;
const AFTER_S = 0.045;
const CARRIES_ON = 0.88;
const LARGEST_GROWTH = 1.6;

/**
 * Leaves out onsets that are only a kick heard in the bass: those that fall on a hit while the bass carries on, its wave after
 * the hit a whole number of periods on from its wave before it. A note struck again starts its wave anew, and shows.
 */
export function withoutKickBleed(
  onsets: readonly NoteOnset[],
  hits: readonly Hit[],
  channel: AnalysisChannel,
  pitch: PitchTrack,
): NoteOnset[] {
  return onsets.filter((onset) => !isOnHit(onset.time_s, hits) || !carriesOn(onset.time_s, channel, pitch));
}

/** True where a hit lies 35 ms before to 45 ms after the time: an onset is seen somewhat ahead of its cause. */
export function isOnHit(time_s: number, hits: readonly Hit[]): boolean {
  return hits.some((hit) => hit.time_s - time_s > -HIT_BEFORE_S && hit.time_s - time_s < HIT_AFTER_S);
}

function carriesOn(time_s: number, channel: AnalysisChannel, { frequency_Hz, hop_s }: PitchTrack): boolean {
  const rate = channel.sampleRate_Hz;
  const at = Math.round(time_s / hop_s);
  const before = Array.from(frequency_Hz.subarray(Math.max(0, at - 8), Math.max(0, at - 1))).filter((f) => f > 0);
  if (before.length < 3) return false;
  const period = rate / median(before);
  const distance = (AFTER_S + BEFORE_S) * rate;
  const lag = Math.round(distance / period) * period;
  const from = Math.round((time_s - BEFORE_S) * rate);
  const { share, growth } = bestMatch(channel.samples, from, lag, Math.round(SPAN_S * rate), period * 0.04);
  return share >= CARRIES_ON && growth <= LARGEST_GROWTH;
}

/** Normalised correlation of a span with one about `lag` later, the best within `reach`, and how much louder the later is. */
function bestMatch(
  samples: Float64Array,
  from: number,
  lag: number,
  span: number,
  reach: number,
): { share: number; growth: number } {
  let best = { share: -1, growth: 1 };
  for (let shift = Math.round(lag - reach); shift <= Math.round(lag + reach); shift++) {
    if (from < 0 || from + shift + span > samples.length) continue;
    let cross = 0;
    let early = 0;
    let late = 0;
    for (let n = from; n < from + span; n++) {
      cross += samples[n]! * samples[n + shift]!;
      early += samples[n]! * samples[n]!;
      late += samples[n + shift]! * samples[n + shift]!;
    }
    const share = early > 0 && late > 0 ? cross / Math.sqrt(early * late) : -1;
    if (share > best.share) best = { share, growth: Math.sqrt(late / early) };
  }
  return best;
}
