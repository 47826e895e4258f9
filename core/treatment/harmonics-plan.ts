import { lockIn, PhaseTrack } from '../dsp/lock-in.js';
import { midOf, type StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { amplitude_to_dB, dB_to_amplitude } from '../units/decibels.js';
import { atan2 } from '../units/exact-math.js';

/** The orders that may be filled up. */
export const ORDERS = [2, 3, 4, 5] as const;

/**
 * Phase of an added harmonic against the fundamental as a cosine, in cycles: 180, 180, 0, 0 degrees for orders 2..5. The peak
 * rises by 0.4 dB on average (at most 1.0) where equal phases raise it by 3.5 (6.1), measured for this project.
 */
export const ADDED_PHASE_cycles = [0.5, 0.5, 0, 0] as const;

/** A harmonic is heard as the note's from here on; below it would only add to the fundamental's own region. */
export const LOWEST_HARMONIC_Hz = 80;
/** An existing partial over this share of the target decides the phase. */
const PHASE_SHARE = 0.3;
/** Where the fundamental lies this far under the note there is nothing to lock on. */
const MISSING_dB = 15;

/** What one order of one note needs, re the fundamental: only the shortfall. */
export function shortfallAmplitude(target: number, existing: number): number {
  return target > existing ? target - existing : 0;
}

/** In the phase of the partial that is there, where it counts; else in the phase that raises the peak least. */
export function shortfallPhase_cycles(
  target: number,
  existing: number,
  existingPhase_cycles: number,
  order: number,
): number {
  return existing > PHASE_SHARE * target ? existingPhase_cycles : ADDED_PHASE_cycles[order - 2]!;
}

/** Target of an order re the fundamental, linear: the second at `level_dB`, each further order `slope_dB` lower. */
export function targetAmplitude(level_dB: number, slope_dB: number, order: number): number {
  return dB_to_amplitude(level_dB - slope_dB * (order - 2));
}

/** The figures of `harmonics`: four entries per note for orders 2..5, and one that says whether the note is left out. */
export interface HarmonicsFigures {
  /** Level of the partial that is there, re the fundamental, dB; -120 where there is nothing. */
  readonly existingPartials_dB: readonly number[];
  /** Its phase against the same power of the fundamental's phasor, in cycles. */
  readonly existingPhases_cycles: readonly number[];
  /** 1 where the fundamental is missing and its harmonics are there already, else 0. */
  readonly leaveOut: readonly number[];
}

/**
 * Reads the partials that the notes have already, by the same lock-in at k times the fundamental, every 10 ms from 30 ms into
 * the note to 250 ms or 20 ms before its end.
 * @param bass the whole bass at the input of the split, not its low lane.
 */
export function readPartials(bass: StereoSignal, notes: readonly Note[]): HarmonicsFigures {
  const mid = midOf(bass);
  const existingPartials_dB: number[] = [];
  const existingPhases_cycles: number[] = [];
  const leaveOut: number[] = [];
  for (const note of notes) {
    const read = readNote(mid, bass.sampleRate_Hz, note);
    existingPartials_dB.push(...read.levels_dB);
    existingPhases_cycles.push(...read.phases_cycles);
    leaveOut.push(read.leaveOut ? 1 : 0);
  }
  return { existingPartials_dB, existingPhases_cycles, leaveOut };
}

interface NotePartials {
  readonly levels_dB: readonly number[];
  readonly phases_cycles: readonly number[];
  readonly leaveOut: boolean;
}

const NOTHING: NotePartials = { levels_dB: [-120, -120, -120, -120], phases_cycles: [0, 0, 0, 0], leaveOut: true };

function readNote(mid: Float64Array, sampleRate_Hz: number, note: Note): NotePartials {
  const track = notePhase(note, sampleRate_Hz);
  const first = Math.max(0, Math.ceil(note.start_s * sampleRate_Hz));
  const last = Math.min(mid.length - 1, Math.floor(note.end_s * sampleRate_Hz));
  const from = first + Math.round(0.03 * sampleRate_Hz);
  const to = Math.min(first + Math.round(0.25 * sampleRate_Hz), last - Math.round(0.02 * sampleRate_Hz));
  if (note.fundamentalMissing || last - first < sampleRate_Hz / note.frequency_Hz) return NOTHING;
  const sums = sumLockIns(mid, track, first, last, from, Math.max(from, to), lockInHalf(note, sampleRate_Hz));
  let power = 0;
  for (let n = first; n <= last; n++) power += mid[n]! * mid[n]!;
  const mean = power / (last - first + 1);
  if (!(sums.fundamental > 0) || 0.5 * sums.fundamental < mean * dB_to_amplitude(-2 * MISSING_dB)) return NOTHING;
  return {
    levels_dB: sums.power.map((p) => Math.max(-120, 0.5 * amplitude_to_dB(p / sums.fundamental))),
    phases_cycles: sums.re.map((re, i) => atan2(sums.im[i]!, re) / (2 * Math.PI)),
    leaveOut: false,
  };
}

/** Means over the moments read: |z|^2 of the fundamental and of each order, and each order against the fundamental's power. */
function sumLockIns(
  mid: Float64Array,
  track: PhaseTrack,
  first: number,
  last: number,
  from: number,
  to: number,
  half: number,
): { fundamental: number; power: number[]; re: number[]; im: number[] } {
  const sums = { fundamental: 0, power: [0, 0, 0, 0], re: [0, 0, 0, 0], im: [0, 0, 0, 0] };
  const z = new Float64Array(2);
  const step = Math.max(1, Math.round((to - from) / 20));
  let count = 0;
  for (let centre = from; centre <= to; centre += step) {
    lockIn(mid, -1, track, 1, centre, half, first, last, z);
    const size = Math.sqrt(z[0]! * z[0]! + z[1]! * z[1]!);
    if (size === 0) continue;
    count += 1;
    sums.fundamental += size * size;
    const w = { re: z[0]! / size, im: z[1]! / size };
    const power = { re: w.re, im: w.im };
    for (let i = 0; i < ORDERS.length; i++) {
      const re = power.re * w.re - power.im * w.im;
      power.im = power.re * w.im + power.im * w.re;
      power.re = re;
      lockIn(mid, -1, track, ORDERS[i]!, centre, half, first, last, z);
      sums.power[i]! += z[0]! * z[0]! + z[1]! * z[1]!;
      sums.re[i]! += size * (z[0]! * power.re + z[1]! * power.im);
      sums.im[i]! += size * (z[1]! * power.re - z[0]! * power.im);
    }
  }
  return {
    fundamental: count > 0 ? sums.fundamental / count : 0,
    power: sums.power.map((p) => (count > 0 ? p / count : 0)),
    re: sums.re,
    im: sums.im,
  };
}

/** The phase track of a note of the list. */
export function notePhase(note: Note, sampleRate_Hz: number): PhaseTrack {
  const start = note.start_s * sampleRate_Hz;
  return new PhaseTrack(start, note.frequency_Hz, sampleRate_Hz, note.curve_Hz, note.curveStep_s);
}

/** Lowest fundamental that the fixed latency has room for; lower notes are read through a shorter window. */
export const LOWEST_FUNDAMENTAL_Hz = 27;

/** Half the lock-in window in samples: a period and a half of the note. */
export function lockInHalf(note: Note, sampleRate_Hz: number): number {
  const frequency_Hz = note.frequency_Hz > LOWEST_FUNDAMENTAL_Hz ? note.frequency_Hz : LOWEST_FUNDAMENTAL_Hz;
  return (1.5 * sampleRate_Hz) / frequency_Hz;
}
