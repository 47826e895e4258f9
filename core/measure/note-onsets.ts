import { interval_cents } from '../units/notes.js';
import { median, percentile } from '../units/statistics.js';
import type { OnsetStrength } from './onset-strength.js';
import type { PeriodBreaks } from './period-breaks.js';
import type { PitchTrack } from './pitch-yin.js';

/** A place where a note may begin. */
export interface NoteOnset {
  readonly time_s: number;
  /** `rise`: the spectrum rises. `step`: the pitch settles elsewhere without an attack. */
  readonly witness: 'rise' | 'step';
  readonly strength_dB: number;
}

/** A rise this strong is an onset by itself; a weaker one needs a broken period as its second witness. */
const STRONG_DB = 1.2;
const STRONG_LIMIT_DB = 2;
const SHARE_OF_STRONGEST = 0.2;
const WEAK_DB = 0.5;
const WEAK_OVER_BACKGROUND = 4;
const BROKEN_SHARE = 0.3;
const WHOLLY_BROKEN = 0.7;
const GREAT_RISE_DB = 6;
const UNHEARD_SHARE = 1.5;
/** So long after an onset the period is not yet known well enough for a break of it to count. */
const SETTLING_S = 0.1;
const BREAK_REACH_S = 0.03;
const HALF_BROKEN = 0.5;
const LONGEST_BREAK_S = 0.1;
/** A break is seen so much ahead: half the span it looks over. */
const BREAK_AHEAD_S = 0.01;
/** A rise later than this after the break is dated by the break. */
const LATE_S = 0.02;
const SHORTEST_GAP_S = 0.07;
const PROMINENCE_SHARE = 0.7;
const STEP_CENTS = 70;
const SETTLED_CENTS = 60;
const OCTAVE_SLIP_CENTS = 40;
const STEP_SPAN_FRAMES = 5;
const STEP_CLEARANCE_S = 0.11;

/**
 * Onsets of a bass line, in order of time: peaks of the spectral rise, strong ones by themselves and weak ones where the period
 * breaks as well, and settled steps of pitch where there is no rise. The thresholds were measured for this project.
 */
export function noteOnsets(strength: OnsetStrength, breaks: PeriodBreaks, pitch: PitchTrack): NoteOnset[] {
  const onsets = strengthPeaks(strength, breaks);
  for (const step of pitchSteps(pitch)) {
    if (onsets.every((onset) => Math.abs(onset.time_s - step.time_s) > STEP_CLEARANCE_S)) onsets.push(step);
  }
  return onsets.sort((a, b) => a.time_s - b.time_s);
}

function strengthPeaks({ rise_dB, hop_s }: OnsetStrength, breaks: PeriodBreaks): NoteOnset[] {
  const strong = Math.max(STRONG_DB, Math.min(STRONG_LIMIT_DB, SHARE_OF_STRONGEST * percentile(rise_dB, 99)));
  const weak = Math.min(strong, Math.max(WEAK_DB, WEAK_OVER_BACKGROUND * percentile(rise_dB, 60)));
  const gap = Math.round(SHORTEST_GAP_S / hop_s);
  const settled = Math.round(SETTLING_S / hop_s);
  const peaks: { at: number; strength: number }[] = [];
  for (let n = 1; n < rise_dB.length - 1; n++) {
    const strength = rise_dB[n]!;
    if (strength < WEAK_DB || strength < rise_dB[n - 1]! || strength <= rise_dB[n + 1]!) continue;
    const least = strength >= strong ? strong : Math.min(weak, strength);
    if (prominenceAt(rise_dB, n) < PROMINENCE_SHARE * least) continue;
    if (!isWitnessed(strength, weak, strong, largestBreak(breaks, n * hop_s))) continue;
    peaks.push({ at: n, strength });
  }
  const kept: { at: number; strength: number }[] = [];
  for (const peak of [...peaks].sort((a, b) => b.strength - a.strength || a.at - b.at)) {
    const settling = peak.strength < strong ? settled : gap;
    if (kept.every((other) => other.at - peak.at >= gap || peak.at - other.at >= settling)) kept.push(peak);
  }
  return kept.map(({ at, strength }) => {
    const rise_s = at * hop_s;
    const break_s = breakBefore(breaks, rise_s);
    return { time_s: rise_s - break_s > LATE_S ? break_s : rise_s, witness: 'rise', strength_dB: strength };
  });
}

/** Where the unbroken run of broken frames that reaches `time_s` begins: a slow attack rises well after it breaks the period. */
function breakBefore({ share, hop_s }: PeriodBreaks, time_s: number): number {
  const last = Math.min(share.length - 1, Math.round(time_s / hop_s));
  const earliest = Math.max(0, last - Math.round(LONGEST_BREAK_S / hop_s));
  let first = last;
  while (first > earliest && share[first - 1]! >= HALF_BROKEN) first--;
  return share[first]! >= HALF_BROKEN && first > earliest ? first * hop_s + BREAK_AHEAD_S : time_s;
}

/**
 * Where the period is known to go on, only a great rise is an onset: harmonics that beat rise again and again over an unbroken
 * period. Where it is broken through and through, a slight rise will do.
 */
function isWitnessed(rise_dB: number, weak_dB: number, strong_dB: number, broken: number | null): boolean {
  if (broken === null) return rise_dB >= UNHEARD_SHARE * strong_dB;
  if (broken >= WHOLLY_BROKEN) return true;
  if (broken >= BROKEN_SHARE) return rise_dB >= weak_dB;
  return rise_dB >= GREAT_RISE_DB;
}

/** The largest break within 30 ms; null where no period was known. */
function largestBreak({ share, hop_s }: PeriodBreaks, time_s: number): number | null {
  let largest: number | null = null;
  const last = Math.min(share.length - 1, Math.round((time_s + BREAK_REACH_S) / hop_s));
  for (let n = Math.max(0, Math.round((time_s - BREAK_REACH_S) / hop_s)); n <= last; n++) {
    if (share[n]! >= 0) largest = Math.max(largest ?? 0, share[n]!);
  }
  return largest;
}

/** How far a peak stands over the higher of the two valleys that part it from higher ground. */
function prominenceAt(values: Float64Array, at: number): number {
  let leftValley = values[at]!;
  for (let n = at - 1; n >= 0 && values[n]! <= values[at]!; n--) leftValley = Math.min(leftValley, values[n]!);
  let rightValley = values[at]!;
  for (let n = at + 1; n < values.length && values[n]! <= values[at]!; n++) {
    rightValley = Math.min(rightValley, values[n]!);
  }
  return values[at]! - Math.max(leftValley, rightValley);
}

/**
 * Where the medians of 50 ms on either side differ by more than 0.7 semitone and the later one is settled. An exact octave
 * without an attack is a doubt of the pitch, not a note.
 */
function pitchSteps({ frequency_Hz, hop_s }: PitchTrack): NoteOnset[] {
  const steps: NoteOnset[] = [];
  let best: { at: number; cents: number } | null = null;
  for (let n = STEP_SPAN_FRAMES; n <= frequency_Hz.length; n++) {
    const cents = n + STEP_SPAN_FRAMES <= frequency_Hz.length ? stepAt(frequency_Hz, n) : 0;
    if (cents > STEP_CENTS) {
      if (best === null || cents > best.cents) best = { at: n, cents };
    } else if (best !== null) {
      steps.push({ time_s: best.at * hop_s, witness: 'step', strength_dB: 0 });
      best = null;
    }
  }
  return steps;
}

function stepAt(frequency_Hz: Float64Array, n: number): number {
  const before = frequency_Hz.subarray(n - STEP_SPAN_FRAMES, n);
  const after = frequency_Hz.subarray(n, n + STEP_SPAN_FRAMES);
  if (before.includes(0) || after.includes(0)) return 0;
  if (interval_cents(Math.min(...after), Math.max(...after)) > SETTLED_CENTS) return 0;
  const step_cents = Math.abs(interval_cents(median(before), median(after)));
  return Math.abs(step_cents - 1200) < OCTAVE_SLIP_CENTS ? 0 : step_cents;
}
