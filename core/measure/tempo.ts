import { cosCycles, exp, log2, sinCycles } from '../units/exact-math.js';
import type { Hit, Note } from '../song/song.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';

const SLOWEST_BPM = 60;
const FASTEST_BPM = 200;
const FEWEST_EVENTS = 8;
const SHORTEST_SPAN_S = 4;
const SAME_EVENT_S = 0.03;
const WINDOW_S = 10;
const STEP_HZ = 0.02;
const LEAST_COHERENCE = 0.2;
const LEAST_STEADINESS = 0.4;
/** Parts of a beat that events may fall on. */
const DIVISIONS: readonly number[] = [1, 2, 3, 4];
/** A bar: what repeats there tells the beat from its dotted neighbour. Four beats, common practice. */
const BEATS_PER_BAR = 4;
const BAR_WORTH = 2;
const REPEAT_WINDOW_S = 0.025;

/**
 * Tempo in bpm (quarter notes), 60 to 200, from hits and note onsets together, or the reason why there is none.
 *
 * Coherence at a frequency f is (|sum w e^(2 pi i f t)|^2 - sum w^2) / ((sum w)^2 - sum w^2): 1 where every event falls on one
 * phase, 0 on average where they are strewn. Its mean over 10 s windows says which tempi fit (beat, halves, thirds, quarters of
 * it); over the whole song, at the finest division that fits, it gives the tempo to some hundredths of a bpm. Where the whole
 * song agrees much less than its windows do, the tempo wanders and none is named.
 *
 * Half or double: the candidate nearest to 110 bpm, weighed with how many kicks it puts on a beat (about 0.8; common practice).
 * Fast music counted at twice the pulse (170 and up) may therefore read at half, slow ballads under 70 at double.
 */
export function findTempo(hits: readonly Hit[], notes: readonly Note[]): Reading {
  const events = mergedEvents(hits, notes);
  const span_s = events.length > 0 ? events[events.length - 1]!.time_s - events[0]!.time_s : 0;
  if (events.length < FEWEST_EVENTS || span_s < SHORTEST_SPAN_S) {
    return unmeasurable('There are too few hits and notes to find a tempo.');
  }
  const local = localCoherence(events);
  const kickRate_Hz = hits.length > 1 ? (hits.length - 1) / (hits[hits.length - 1]!.time_s - hits[0]!.time_s) : 0;
  const bars = hits.length >= FEWEST_EVENTS ? mergedEvents(hits, []) : events;
  const rough_bpm = onThePeak(local, likeliestTempo(bars, local, kickRate_Hz));
  const parts = finestFittingDivision(local, rough_bpm);
  const fit = refined(events, (parts * rough_bpm) / 60, span_s);
  const around = coherenceNear(local, fit.frequency_Hz);
  if (around < LEAST_COHERENCE) return unmeasurable('Hits and notes do not fall on a common pulse.');
  if (fit.coherence < LEAST_STEADINESS * around) return unmeasurable('The tempo is not steady over the song.');
  return figure((60 * fit.frequency_Hz) / parts);
}

interface Event {
  readonly time_s: number;
  readonly weight: number;
}

/** Hits and notes in one list; what falls within 30 ms is one event, at the hit's time where there is one. */
function mergedEvents(hits: readonly Hit[], notes: readonly Note[]): Event[] {
  const strikes = hits.map((hit) => ({ time_s: hit.time_s, weight: 1 }));
  const starts = notes
    .filter((note) => !hits.some((hit) => Math.abs(hit.time_s - note.start_s) < SAME_EVENT_S))
    .map((note) => ({ time_s: note.start_s, weight: 0.7 }));
  return [...strikes, ...starts].sort((a, b) => a.time_s - b.time_s);
}

function coherenceOf(events: readonly Event[], frequency_Hz: number): number {
  let re = 0;
  let im = 0;
  let sum = 0;
  let squares = 0;
  for (const { time_s, weight } of events) {
    re += weight * cosCycles(frequency_Hz * time_s);
    im += weight * sinCycles(frequency_Hz * time_s);
    sum += weight;
    squares += weight * weight;
  }
  return (re * re + im * im - squares) / Math.max(1e-9, sum * sum - squares);
}

/** Mean coherence of 10 s windows, half overlapping, at every STEP_HZ up to four parts of the fastest beat. */
function localCoherence(events: readonly Event[]): Float64Array {
  const mean = new Float64Array(Math.ceil((4 * FASTEST_BPM) / 60 / STEP_HZ) + 2);
  const first_s = events[0]!.time_s;
  const last_s = events[events.length - 1]!.time_s;
  let windows = 0;
  for (let from_s = first_s; windows === 0 || from_s + WINDOW_S / 2 < last_s; from_s += WINDOW_S / 2) {
    const inside = events.filter(({ time_s }) => time_s >= from_s && time_s < from_s + WINDOW_S);
    if (inside.length < 4 && windows > 0) continue;
    windows++;
    for (let n = 0; n < mean.length; n++) mean[n]! += coherenceOf(inside, n * STEP_HZ);
  }
  for (let n = 0; n < mean.length; n++) mean[n]! /= windows;
  return mean;
}

function coherenceNear(local: Float64Array, frequency_Hz: number): number {
  const at = frequency_Hz / STEP_HZ;
  const below = Math.floor(at);
  const low = local[below] ?? 0;
  return low + (at - below) * ((local[below + 1] ?? 0) - low);
}

/** The tempo of most agreement within 3 %: a bar repeats over a wider range than its beats agree. */
function onThePeak(local: Float64Array, near_bpm: number): number {
  let best_bpm = near_bpm;
  let best = -Infinity;
  for (let bpm = 0.97 * near_bpm; bpm <= 1.03 * near_bpm; bpm += 0.1) {
    let sum = 0;
    for (const parts of DIVISIONS) sum += Math.max(0, coherenceNear(local, (parts * bpm) / 60));
    if (sum > best) {
      best = sum;
      best_bpm = bpm;
    }
  }
  return best_bpm;
}

function likeliestTempo(events: readonly Event[], local: Float64Array, kickRate_Hz: number): number {
  const onBeats = localCoherence(events);
  let best_bpm = SLOWEST_BPM;
  let best = -Infinity;
  for (let bpm = SLOWEST_BPM; bpm <= FASTEST_BPM; bpm += 0.25) {
    const [beat, half, third, quarter] = DIVISIONS.map((parts) =>
      Math.max(0, coherenceNear(local, (parts * bpm) / 60)),
    );
    if (Math.max(half!, third!, quarter!) < LEAST_COHERENCE) continue;
    const even = 0.8 * half! + 0.7 * quarter!;
    const bar = repeatShare(events, (60 * BEATS_PER_BAR) / bpm);
    const fit = beat! + Math.max(0, coherenceNear(onBeats, bpm / 60)) + Math.max(even, 1.1 * third!) + BAR_WORTH * bar;
    const score =
      fit * likelihood(bpm / 110, 0.8) * (kickRate_Hz > 0 ? likelihood((60 * kickRate_Hz) / bpm / 0.8, 1) : 1);
    if (score > best) {
      best = score;
      best_bpm = bpm;
    }
  }
  return best_bpm;
}

/** Share of the events' weight that finds another event `span_s` later, over what strewn events would find. */
function repeatShare(events: readonly Event[], span_s: number): number {
  const first_s = events[0]!.time_s;
  const last_s = events[events.length - 1]!.time_s;
  let found = 0;
  let asked = 0;
  let next = 0;
  for (const { time_s, weight } of events) {
    const target_s = time_s + span_s;
    if (target_s > last_s) break;
    while (next < events.length && events[next]!.time_s < target_s - REPEAT_WINDOW_S) next++;
    asked += weight;
    if (next < events.length && events[next]!.time_s <= target_s + REPEAT_WINDOW_S) found += weight;
  }
  const byChance = Math.min(0.9, (2 * REPEAT_WINDOW_S * events.length) / Math.max(1e-9, last_s - first_s));
  return asked > 0 ? Math.max(0, (found / asked - byChance) / (1 - byChance)) : 0;
}

/** A bell over the logarithm of a ratio, `width` in octaves. */
function likelihood(ratio: number, width: number): number {
  const octaves = log2(ratio) / width;
  return exp(-0.5 * octaves * octaves);
}

/** The finest division whose coherence is at least 0.8 of the best one's. */
function finestFittingDivision(local: Float64Array, bpm: number): number {
  const fits = DIVISIONS.map((parts) => ({ parts, coherence: coherenceNear(local, (parts * bpm) / 60) }));
  const best = Math.max(...fits.map((fit) => fit.coherence));
  return Math.max(...fits.filter((fit) => fit.coherence >= 0.8 * best).map((fit) => fit.parts));
}

/** The frequency of most coherence over the whole song, within the width of the local peak. */
function refined(
  events: readonly Event[],
  frequency_Hz: number,
  span_s: number,
): { frequency_Hz: number; coherence: number } {
  const reach_Hz = Math.min(0.1, 1 / Math.min(span_s, WINDOW_S));
  const step_Hz = 1 / (10 * span_s);
  let best = { frequency_Hz, coherence: -Infinity };
  for (let f = frequency_Hz - reach_Hz; f <= frequency_Hz + reach_Hz; f += step_Hz) {
    const coherence = coherenceOf(events, f);
    if (coherence > best.coherence) best = { frequency_Hz: f, coherence };
  }
  const before = coherenceOf(events, best.frequency_Hz - step_Hz);
  const after = coherenceOf(events, best.frequency_Hz + step_Hz);
  const bend = before - 2 * best.coherence + after;
  const shift = bend < 0 ? (0.5 * (before - after)) / bend : 0;
  return { frequency_Hz: best.frequency_Hz + shift * step_Hz, coherence: best.coherence };
}
