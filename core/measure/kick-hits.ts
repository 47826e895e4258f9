import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass, butterworthHighPass } from '../dsp/butterworth.js';
import { isMono, type StereoSignal } from '../signal/stereo-signal.js';
import { reducedRate } from '../dsp/reduced-rate.js';
import type { Hit } from '../song/song.js';
import { power_to_dB } from '../units/decibels.js';
import { percentile } from '../units/statistics.js';
import { analysisChannel, type AnalysisChannel } from './analysis-channel.js';
import { levelTrack, runningPower } from './level-track.js';

const STEP_S = 0.001;
const LOW_RISE_DB = 6;
const HIGH_RISE_DB = 12;
const PAIR_STEPS = 25;
const SHORTEST_GAP_S = 0.08;

/**
 * Finds every hit of a kick stem. A hit is a rise of at least 6 dB within 20 ms in 30-200 Hz together with one of at least
 * 12 dB within 10 ms above 200 Hz; the second is not asked of a kick whose highs lie 45 dB under its lows. Hits stand at least
 * 80 ms apart. The thresholds were measured for this project on sampled and synthetic kicks.
 * @returns hits in order of time; none for silence.
 */
export function findKickHits(kick: StereoSignal): Hit[] {
  const channel = analysisChannel(kick);
  const times = hitTimes(channel);
  return withLevels(kick, times);
}

function hitTimes(channel: AnalysisChannel): number[] {
  const { samples, sampleRate_Hz } = channel;
  const pad = Math.round(0.2 * sampleRate_Hz);
  const lows = filteredBothWays(samples, butterworthBandPass(2, 30, 200, sampleRate_Hz), pad);
  const highs = filteredBothWays(samples, butterworthHighPass(2, 200, sampleRate_Hz), pad);
  const low = bandLevels(lows, sampleRate_Hz, 0.02);
  const high = bandLevels(highs, sampleRate_Hz, 0.005);
  if (low.top_dB < -100) return [];
  const lowRises = risesOf(low.level_dB, 20, LOW_RISE_DB);
  const clickless = high.top_dB < low.top_dB - 45;
  const highRises = clickless ? lowRises : risesOf(high.level_dB, 10, HIGH_RISE_DB);
  const times: number[] = [];
  for (const rise of lowRises) {
    const partner = nearestRise(highRises, rise.at);
    if (partner === null) continue;
    if (peakIn(low.level_dB, rise.at, 60) < low.top_dB - 24) continue;
    if (!clickless && peakIn(high.level_dB, partner.at, 20) < high.top_dB - 30) continue;
    const time_s = attackTime(channel, Math.min(rise.at, partner.at) * STEP_S);
    const last = times[times.length - 1];
    if (last === undefined || time_s - last >= SHORTEST_GAP_S) times.push(time_s);
  }
  return times;
}

function bandLevels(
  samples: Float64Array,
  sampleRate_Hz: number,
  span_s: number,
): { level_dB: Float64Array; top_dB: number } {
  const { level_dB } = levelTrack(samples, sampleRate_Hz, { step_s: STEP_S, span_s, trailing: true });
  const top_dB = percentile(level_dB, 99.5);
  const floor_dB = top_dB - 60;
  for (let n = 0; n < level_dB.length; n++) level_dB[n] = Math.max(floor_dB, level_dB[n]!);
  return { level_dB, top_dB };
}

interface Rise {
  /** Step of the steepest rise. */
  readonly at: number;
}

/** Every stretch in which the level stands at least `least_dB` over that of `over` steps before, at its steepest. */
function risesOf(level_dB: Float64Array, over: number, least_dB: number): Rise[] {
  const rises: Rise[] = [];
  let best = -1;
  let bestRise = least_dB;
  for (let n = 0; n <= level_dB.length; n++) {
    const rise = n < level_dB.length ? level_dB[n]! - (n >= over ? level_dB[n - over]! : level_dB[0]!) : 0;
    if (rise >= least_dB) {
      if (rise > bestRise || best < 0) {
        best = n;
        bestRise = rise;
      }
    } else if (best >= 0) {
      rises.push({ at: best });
      best = -1;
      bestRise = least_dB;
    }
  }
  return rises;
}

function nearestRise(rises: readonly Rise[], at: number): Rise | null {
  let nearest: Rise | null = null;
  for (const rise of rises) {
    const distance = Math.abs(rise.at - at);
    if (distance <= PAIR_STEPS && (nearest === null || distance < Math.abs(nearest.at - at))) nearest = rise;
    if (rise.at > at + PAIR_STEPS) break;
  }
  return nearest;
}

function peakIn(level_dB: Float64Array, from: number, count: number): number {
  let peak = -Infinity;
  for (let n = from; n < Math.min(level_dB.length, from + count); n++) peak = Math.max(peak, level_dB[n]!);
  return peak;
}

/** The first sample at 10 % of the hit's peak that also stands 1.2 times over what came before, in s. */
function attackTime({ samples, sampleRate_Hz }: AnalysisChannel, near_s: number): number {
  const at = (offset_s: number): number =>
    Math.max(0, Math.min(samples.length, Math.round((near_s + offset_s) * sampleRate_Hz)));
  const from = at(-0.022);
  const to = at(0.06);
  const peak = largestIn(samples, from, to);
  const before = largestIn(samples, at(-0.042), from);
  const threshold = Math.max(0.1 * peak, 1.2 * before);
  for (let n = from; n < to; n++) if (Math.abs(samples[n]!) >= threshold) return n / sampleRate_Hz;
  return near_s;
}

function largestIn(samples: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let n = from; n < to; n++) largest = Math.max(largest, Math.abs(samples[n]!));
  return largest;
}

/** Level of each hit: mean square of its first 150 ms (or up to the next hit), 30-200 Hz, both channels summed. */
function withLevels(kick: StereoSignal, times: readonly number[]): Hit[] {
  if (times.length === 0) return [];
  const reduced = reducedRate(kick, 2000);
  const rate = reduced.sampleRate_Hz;
  const band = butterworthBandPass(2, 30, 200, rate);
  const left = runningPower(filteredBothWays(reduced.left, band, Math.round(0.2 * rate)));
  const right = isMono(reduced) ? left : runningPower(filteredBothWays(reduced.right, band, Math.round(0.2 * rate)));
  return times.map((time_s, i) => {
    const end_s = Math.min(time_s + 0.15, times[i + 1] ?? Infinity);
    const from = Math.min(left.length - 1, Math.round(time_s * rate));
    const to = Math.max(from + 1, Math.min(left.length - 1, Math.round(end_s * rate)));
    const power = (left[to]! - left[from]! + right[to]! - right[from]!) / (to - from);
    return { time_s, level_dBFS: power_to_dB(Math.max(power, 1e-20)) };
  });
}
