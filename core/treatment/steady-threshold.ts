import { BoxcarPower } from '../dsp/boxcar-power.js';
import { LevelRider } from '../dsp/level-rider.js';
import { softKneeReduction_dB } from '../dsp/soft-knee.js';
import { TICK } from '../dsp/stereo-unit.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { power_to_dB } from '../units/decibels.js';
import { exp10 } from '../units/exact-math.js';
import { percentile } from '../units/statistics.js';
import { STEADY_DETECTOR_ms, STEADY_MEMORY_SHARE } from './steady.js';

/** The part of a note that counts: 50 to 250 ms into it, or to its end. */
const FROM_s = 0.05;
const TO_s = 0.25;

export interface SteadySettings {
  readonly threshold_dBFS: number;
  readonly ratio: number;
  readonly knee_dB: number;
  readonly attack_ms: number;
  readonly release_ms: number;
}

/** What `steady` reads of each note, open loop: mean detector level in dB over 50..250 ms; notes under 60 ms are left out. */
export function steadyNoteLevels_dB(lane: StereoSignal, notes: readonly Note[]): number[] {
  const detector = new BoxcarPower(Math.round((STEADY_DETECTOR_ms * lane.sampleRate_Hz) / 1000));
  const levels = traced(lane, (left, right, out) => {
    detector.process(left, right, TICK, out);
    for (let i = 0; i < TICK; i++) out[i] = out[i]! > 1e-20 ? power_to_dB(out[i]!) : -200;
  });
  return noteMeans(levels, notes, lane.sampleRate_Hz);
}

/**
 * Start of the search for the threshold: the notes' open-loop levels through the static curve, P90 over notes, bisected. The
 * ballistics are left out (error 0.17 dB median, 0.4 dB at most of 4 dB, measured for this project).
 * @returns threshold_dBFS, -60..0.
 */
export function steadyThresholdStart_dBFS(
  levels_dB: readonly number[],
  wished_dB: number,
  ratio: number,
  knee_dB: number,
): number {
  return bisectedThreshold(wished_dB, (threshold_dBFS) =>
    percentile(
      levels_dB.map((level_dB) => softKneeReduction_dB(level_dB, threshold_dBFS, ratio, knee_dB)),
      90,
    ),
  );
}

/**
 * The threshold itself: the stage is feed-forward, so its reduction follows from the lane without rendering any sound.
 * @returns threshold_dBFS to within 0.02 dB, -60..0, and the reduction it gives.
 */
export function steadyThreshold(
  lane: StereoSignal,
  notes: readonly Note[],
  wished_dB: number,
  settings: Omit<SteadySettings, 'threshold_dBFS'>,
): { readonly threshold_dBFS: number; readonly loudNoteReduction_dB: number } {
  const reduction = (threshold_dBFS: number) => loudNoteReduction_dB(lane, notes, { ...settings, threshold_dBFS });
  const start = steadyThresholdStart_dBFS(
    steadyNoteLevels_dB(lane, notes),
    wished_dB,
    settings.ratio,
    settings.knee_dB,
  );
  // Reduction rises by about (1 - 1/ratio) dB per dB that the threshold falls.
  const slope = Math.max(0.2, 1 - 1 / settings.ratio);
  let threshold_dBFS = start;
  let got = reduction(threshold_dBFS);
  for (let round = 0; round < 4 && Math.abs(got - wished_dB) > 0.02; round++) {
    threshold_dBFS = Math.max(-60, Math.min(0, threshold_dBFS - (wished_dB - got) / slope));
    got = reduction(threshold_dBFS);
  }
  return { threshold_dBFS, loudNoteReduction_dB: got };
}

/** P90 over notes of the mean reduction 50..250 ms into the note; NaN where no note is long enough. */
export function loudNoteReduction_dB(lane: StereoSignal, notes: readonly Note[], settings: SteadySettings): number {
  return percentile(noteMeans(reductionTrace(lane, settings), notes, lane.sampleRate_Hz), 90);
}

/** Make-up of the lane: its energy before over after, in dB; 0 for silence. */
export function steadyMakeUp_dB(lane: StereoSignal, settings: SteadySettings): number {
  const reductions_dB = reductionTrace(lane, settings);
  let before = 0;
  let after = 0;
  for (let n = 0; n < lane.left.length; n++) {
    const power = lane.left[n]! * lane.left[n]! + lane.right[n]! * lane.right[n]!;
    before += power;
    after += power * exp10(-reductions_dB[n]! / 10);
  }
  return after > 0 ? power_to_dB(before / after) : 0;
}

/** The reduction at every frame, just as the stage makes it. */
function reductionTrace(lane: StereoSignal, settings: SteadySettings): Float64Array {
  const rider = new LevelRider(lane.sampleRate_Hz, STEADY_DETECTOR_ms, STEADY_MEMORY_SHARE);
  const { threshold_dBFS, ratio, knee_dB, attack_ms, release_ms } = settings;
  rider.configure(threshold_dBFS, ratio, knee_dB, attack_ms, release_ms);
  return traced(lane, (left, right, out) => {
    rider.process(left, right, TICK, out);
    rider.flush();
  });
}

/** Runs a detector over the lane in ticks; the last tick is filled up with silence. */
function traced(
  lane: StereoSignal,
  tick: (left: Float64Array, right: Float64Array, out: Float64Array) => void,
): Float64Array {
  const frames = lane.left.length;
  const trace = new Float64Array(frames);
  const left = new Float64Array(TICK);
  const right = new Float64Array(TICK);
  const out = new Float64Array(TICK);
  for (let at = 0; at < frames; at += TICK) {
    for (let i = 0; i < TICK; i++) {
      left[i] = at + i < frames ? lane.left[at + i]! : 0;
      right[i] = at + i < frames ? lane.right[at + i]! : 0;
    }
    tick(left, right, out);
    trace.set(at + TICK <= frames ? out : out.subarray(0, frames - at), at);
  }
  return trace;
}

function noteMeans(trace: Float64Array, notes: readonly Note[], sampleRate_Hz: number): number[] {
  const means: number[] = [];
  for (const note of notes) {
    const from = Math.max(0, Math.round((note.start_s + FROM_s) * sampleRate_Hz));
    const end_s = Math.min(note.start_s + TO_s, note.end_s);
    const to = Math.min(trace.length, Math.round(end_s * sampleRate_Hz));
    if (to - from < 0.01 * sampleRate_Hz) continue;
    let sum = 0;
    for (let n = from; n < to; n++) sum += trace[n]!;
    means.push(sum / (to - from));
  }
  return means;
}

function bisectedThreshold(wished_dB: number, reduction_dB: (threshold_dBFS: number) => number): number {
  let low = -60; // most reduction
  let high = 0;
  for (let round = 0; round < 24; round++) {
    const middle = 0.5 * (low + high);
    if (reduction_dB(middle) > wished_dB) low = middle;
    else high = middle;
  }
  return 0.5 * (low + high);
}
