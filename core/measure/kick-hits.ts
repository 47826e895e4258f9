import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import { isMono, type StereoSignal } from '../signal/stereo-signal.js';
import type { Hit } from '../song/song.js';
import { power_to_dB } from '../units/decibels.js';
import { median, percentile } from '../units/statistics.js';
import { analysisChannel, type AnalysisChannel } from './analysis-channel.js';
import { kickCandidates, type KickCandidate } from './kick-candidates.js';
import { AttackComparison } from './kick-likeness.js';
import { runningPower } from './level-track.js';
import { matchedHits, type MatchedHit } from './matched-hits.js';

const PLAIN_LOW_RISE_DB = 6;
const PLAIN_HIGH_RISE_DB = 12;
const PLAIN_RANGE_DB = 9;
const GHOST_RANGE_DB = 24;
const MODEL_COUNT = 12;
const LIKE_ENOUGH = 0.6;
const SURELY_LIKE = 0.8;
const MATCHES = 0.35;
const MATCHES_SOMEWHAT = 0.2;
const SAME_SOUND = 0.8;
const ASTRAY_S = 0.004;
const FEWEST_COMMON = 5;
const COMMON_COUNT = 24;
const COMMON_BEFORE_S = 0.045;
const COMMON_AFTER_S = 0.06;
const SHORTEST_GAP_S = 0.075;
const SAME_HIT_S = 0.04;

/**
 * Finds every hit of a kick stem. A plain hit rises by at least 6 dB within 20 ms in 30-200 Hz, by at least 12 dB within 10 ms
 * above 200 Hz, and lies within 9 dB of the usual hit. Anything less (ghost hits, doubles over a ringing tail, bleed of other
 * drums) must sound like the plain hits: its attack correlates with the most typical one by 0.6 or
 * more (0.8 where the highs hardly rise, as on a tail that beats). Hits stand at least
 * 75 ms apart. The thresholds were measured for this project on sampled and synthetic kicks.
 * @param channel the kick's analysis channel, where the caller has it already.
 * @returns hits in order of time; none for silence.
 */
export function findKickHits(kick: StereoSignal, channel: AnalysisChannel = analysisChannel(kick)): Hit[] {
  return withLevels(kick, hitTimes(kick, channel));
}

interface Attack {
  readonly time_s: number;
  readonly candidate: KickCandidate;
  readonly plain: boolean;
}

function hitTimes(kick: StereoSignal, channel: AnalysisChannel): number[] {
  const candidates = kickCandidates(channel);
  const clear = candidates.filter((candidate) => candidate.loudEnough && isClear(candidate));
  if (clear.length === 0) return [];
  const usual_dB = percentile(
    clear.map((candidate) => candidate.lowLevel_dB),
    75,
  );
  const audible = candidates.filter((candidate) => candidate.lowLevel_dB >= usual_dB - GHOST_RANGE_DB);
  const attacks = audible.map((candidate) => ({
    time_s: attackTime(channel, candidate.time_s),
    candidate,
    plain: candidate.loudEnough && isClear(candidate) && candidate.lowLevel_dB >= usual_dB - PLAIN_RANGE_DB,
  }));
  const comparison = new AttackComparison(channel);
  const model_s = mostTypical(attacks, comparison);
  return withMatches(spaced(likeTheModel(kick, attacks, model_s, comparison)), channel);
}

/**
 * The matched filter as second witness: it confirms what is only somewhat like the model (the shell of a snare is, too), adds hits
 * hidden under a tail or a cymbal, and dates those whose attack was read elsewhere, from a cymbal just before.
 */
function withMatches(rated: readonly RatedTime[], channel: AnalysisChannel): number[] {
  const sure_s = rated.filter((hit) => hit.sure).map((hit) => hit.time_s);
  const matches = matchedHits(channel, sure_s);
  const matchAt = (time_s: number, least: number): MatchedHit | undefined =>
    matches.find((other) => other.share >= least && Math.abs(other.time_s - time_s) < SAME_HIT_S);
  const seen = rated.filter((hit) => hit.sure || matchAt(hit.time_s, MATCHES_SOMEWHAT) !== undefined);
  const dated = seen.map(({ time_s }) => {
    const match = matchAt(time_s, MATCHES);
    return match !== undefined && Math.abs(match.time_s - time_s) > ASTRAY_S ? match.time_s : time_s;
  });
  const hidden = matches
    .filter((match) => match.share >= MATCHES)
    .map((match) => match.time_s)
    .filter((time_s) => dated.every((other_s) => Math.abs(other_s - time_s) >= SHORTEST_GAP_S));
  return [...dated, ...hidden].sort((a, b) => a - b);
}

function isClear(candidate: KickCandidate): boolean {
  return candidate.lowRise_dB >= PLAIN_LOW_RISE_DB && candidate.highRise_dB >= PLAIN_HIGH_RISE_DB;
}

/** Of the first plain hits, spread over the song, the one most like all the others. */
function mostTypical(attacks: readonly Attack[], comparison: AttackComparison): number {
  const plain = attacks.filter((attack) => attack.plain);
  const stride = Math.max(1, Math.floor(plain.length / MODEL_COUNT));
  const models = plain.filter((_, i) => i % stride === 0).slice(0, MODEL_COUNT);
  let best_s = models[0]!.time_s;
  let best = -Infinity;
  for (const model of models) {
    let sum = 0;
    for (const other of models) if (other !== model) sum += comparison.likeness(model.time_s, other.time_s).share;
    if (sum > best) {
      best = sum;
      best_s = model.time_s;
    }
  }
  return best_s;
}

interface RatedTime {
  readonly time_s: number;
  readonly worth: number;
  /** False where it needs the matched filter as a second witness. */
  readonly sure: boolean;
}

/**
 * Keeps plain hits and those like the model. Hits of the very same sound are dated by their likeness: the attack is read once,
 * from the sound they have in common, so that bleed or a ringing tail just before one hit does not pull it.
 */
function likeTheModel(
  kick: StereoSignal,
  attacks: readonly Attack[],
  model_s: number,
  comparison: AttackComparison,
): RatedTime[] {
  const rated = attacks.map((attack) => {
    const { share, lag_s } = comparison.likeness(model_s, attack.time_s);
    return { attack, share, aligned_s: attack.time_s + lag_s };
  });
  const kept = rated.filter(({ attack, share }) => attack.plain || share >= LIKE_ENOUGH);
  const same = kept.filter(({ attack, share }) => attack.plain && share >= SAME_SOUND);
  const attack_s = commonAttack(
    kick,
    same.map(({ aligned_s }) => aligned_s),
  );
  return kept.map(({ attack, share, aligned_s }) => {
    const common_s = attack_s === null ? attack.time_s : aligned_s + attack_s;
    const astray = share >= LIKE_ENOUGH && Math.abs(common_s - attack.time_s) > ASTRAY_S;
    return {
      time_s: share >= SAME_SOUND || astray ? common_s : attack.time_s,
      worth: attack.candidate.lowLevel_dB + 10 * share,
      sure: attack.plain || share >= SURELY_LIKE,
    };
  });
}

/**
 * Where the sound that aligned hits have in common begins, relative to their common time: their median magnitude at the full
 * rate, which keeps the click of a layered kick. Null where there are too few hits.
 */
function commonAttack(kick: StereoSignal, times_s: readonly number[]): number | null {
  const rate = kick.sampleRate_Hz;
  const stride = Math.max(1, Math.floor(times_s.length / COMMON_COUNT));
  const before = Math.round(COMMON_BEFORE_S * rate);
  const span = before + Math.round(COMMON_AFTER_S * rate);
  const pieces = times_s
    .filter((_, i) => i % stride === 0)
    .map((time_s) => Math.round(time_s * rate) - before)
    .filter((start) => start >= 0 && start + span <= kick.left.length)
    .map((start) => magnitudes(kick, start, span));
  if (pieces.length < FEWEST_COMMON) return null;
  const scales = pieces.map((piece) => 1 / Math.max(1e-9, largestIn(piece, before, span)));
  const common = new Float64Array(span);
  for (let n = 0; n < span; n++) common[n] = median(pieces.map((piece, i) => scales[i]! * piece[n]!));
  return attackTime({ samples: common, sampleRate_Hz: rate }, COMMON_BEFORE_S) - COMMON_BEFORE_S;
}

function magnitudes({ left, right }: StereoSignal, from: number, count: number): Float64Array {
  const loudest = new Float64Array(count);
  for (let n = 0; n < count; n++) loudest[n] = Math.max(Math.abs(left[from + n]!), Math.abs(right[from + n]!));
  return loudest;
}

/** Of hits closer than 75 ms the worthier stays. */
function spaced(hits: readonly RatedTime[]): RatedTime[] {
  const kept: RatedTime[] = [];
  for (const hit of [...hits].sort((a, b) => a.time_s - b.time_s)) {
    const last = kept[kept.length - 1];
    if (last === undefined || hit.time_s - last.time_s >= SHORTEST_GAP_S) kept.push(hit);
    else if (hit.worth > last.worth) kept[kept.length - 1] = hit;
  }
  return kept;
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
  const rate = kick.sampleRate_Hz;
  const band = butterworthBandPass(2, 30, 200, rate);
  const pad = Math.round(0.2 * rate);
  const left = runningPower(filteredBothWays(kick.left, band, pad));
  const right = isMono(kick) ? left : runningPower(filteredBothWays(kick.right, band, pad));
  return times.map((time_s, i) => {
    const end_s = Math.min(time_s + 0.15, times[i + 1] ?? Infinity);
    const from = Math.min(left.length - 1, Math.round(time_s * rate));
    const to = Math.max(from + 1, Math.min(left.length - 1, Math.round(end_s * rate)));
    const power = (left[to]! - left[from]! + right[to]! - right[from]!) / (to - from);
    return { time_s, level_dBFS: power_to_dB(Math.max(power, 1e-20)) };
  });
}
