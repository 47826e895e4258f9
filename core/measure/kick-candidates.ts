import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass, butterworthHighPass } from '../dsp/butterworth.js';
import { percentile } from '../units/statistics.js';
import type { AnalysisChannel } from './analysis-channel.js';
import { levelTrack } from './level-track.js';

/** A place where a kick may have been struck. */
export interface KickCandidate {
  readonly time_s: number;
  /** Rise of 30-200 Hz within 20 ms. */
  readonly lowRise_dB: number;
  /** Rise above 200 Hz within 10 ms; Infinity for a kick that has no highs to speak of. */
  readonly highRise_dB: number;
  /** Loudest level of 30-200 Hz in the 60 ms that follow. */
  readonly lowLevel_dB: number;
  /** False where both peaks lie too far under the stem's own loud level to be a hit at all. */
  readonly loudEnough: boolean;
}

const STEP_S = 0.001;
const LOW_SPAN = 20;
const HIGH_SPAN = 10;
const PAIR_STEPS = 25;
const CLEAR_LOW_RISE_DB = 6;
const LEAST_LOW_RISE_DB = 1.5;
const CLEAR_HIGH_RISE_DB = 12;
const LEAST_HIGH_RISE_DB = 3;
const CLICKLESS_DB = 45;
const QUIETEST_LOW_DB = 24;
const QUIETEST_HIGH_DB = 30;

/**
 * Every place where the lows (30-200 Hz, trailing 20 ms) and the highs (above 200 Hz, trailing 5 ms) rise within 25 ms of each
 * other, one of them clearly. Lows alone would rise again on tails that beat.
 */
export function kickCandidates({ samples, sampleRate_Hz }: AnalysisChannel): KickCandidate[] {
  const pad = Math.round(0.2 * sampleRate_Hz);
  const lows = filteredBothWays(samples, butterworthBandPass(2, 30, 200, sampleRate_Hz), pad);
  const highs = filteredBothWays(samples, butterworthHighPass(2, 200, sampleRate_Hz), pad);
  const low = bandTrack(lows, sampleRate_Hz, LOW_SPAN);
  if (low.top_dB < -100) return [];
  const high = bandTrack(highs, sampleRate_Hz, HIGH_SPAN / 2);
  const lowRises = risesOf(low.level_dB, LOW_SPAN, LEAST_LOW_RISE_DB);
  const clickless = high.top_dB < low.top_dB - CLICKLESS_DB;
  const highRises = clickless ? [] : risesOf(high.level_dB, HIGH_SPAN, LEAST_HIGH_RISE_DB);
  return lowRises.flatMap((rise) => {
    const partner = clickless ? { at: rise.at, rise_dB: Infinity } : partnerOf(highRises, rise.at);
    if (partner === null) return [];
    if (rise.rise_dB < CLEAR_LOW_RISE_DB && (clickless || partner.rise_dB < CLEAR_HIGH_RISE_DB)) return [];
    const lowLevel_dB = loudest(low.level_dB, rise.at, 60);
    const highLevel_dB = loudest(high.level_dB, partner.at, 20);
    return [
      {
        time_s: Math.min(rise.at, partner.at) * STEP_S,
        lowRise_dB: rise.rise_dB,
        highRise_dB: partner.rise_dB,
        lowLevel_dB,
        loudEnough:
          lowLevel_dB >= low.top_dB - QUIETEST_LOW_DB && (clickless || highLevel_dB >= high.top_dB - QUIETEST_HIGH_DB),
      },
    ];
  });
}

function bandTrack(
  samples: Float64Array,
  sampleRate_Hz: number,
  span: number,
): { level_dB: Float64Array; top_dB: number } {
  const shape = { step_s: STEP_S, span_s: span * STEP_S, trailing: true };
  const { level_dB } = levelTrack(samples, sampleRate_Hz, shape);
  const top_dB = percentile(level_dB, 99.5);
  const floor_dB = top_dB - 60;
  for (let n = 0; n < level_dB.length; n++) level_dB[n] = Math.max(floor_dB, level_dB[n]!);
  return { level_dB, top_dB };
}

interface Rise {
  readonly at: number;
  readonly rise_dB: number;
}

/** Every stretch in which the level stands at least `least_dB` over that of `over` steps before, at its steepest. */
function risesOf(level_dB: Float64Array, over: number, least_dB: number): Rise[] {
  const rises: Rise[] = [];
  let best: Rise | null = null;
  for (let n = 0; n <= level_dB.length; n++) {
    const rise_dB = n < level_dB.length ? level_dB[n]! - level_dB[Math.max(0, n - over)]! : 0;
    if (rise_dB >= least_dB) {
      if (best === null || rise_dB > best.rise_dB) best = { at: n, rise_dB };
    } else if (best !== null) {
      rises.push(best);
      best = null;
    }
  }
  return rises;
}

/** The steepest rise of the highs within 25 ms. */
function partnerOf(rises: readonly Rise[], at: number): Rise | null {
  let low = 0;
  let high = rises.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rises[middle]!.at < at - PAIR_STEPS) low = middle + 1;
    else high = middle;
  }
  let steepest: Rise | null = null;
  for (let i = low; i < rises.length && rises[i]!.at <= at + PAIR_STEPS; i++) {
    if (steepest === null || rises[i]!.rise_dB > steepest.rise_dB) steepest = rises[i]!;
  }
  return steepest;
}

function loudest(level_dB: Float64Array, from: number, count: number): number {
  let level = -Infinity;
  for (let n = from; n < Math.min(level_dB.length, from + count); n++) level = Math.max(level, level_dB[n]!);
  return level;
}
