import { percentileOfSorted, sorted } from '../units/statistics.js';
import { clamp } from '../units/units.js';

/**
 * The gain that `even` gives a note: against its deviation, in part (`depth` 0..1), held within the largest ride.
 * @param deviation_dB how far the note stands above the line it should lie on; 0 for a note that is left alone.
 */
export function evenGain_dB(deviation_dB: number, depth: number, maxRide_dB: number): number {
  return clamp(-depth * deviation_dB, -maxRide_dB, maxRide_dB);
}

/** What is known of a note where it is decided whether to ride it, and where. */
export interface NoteDeviation {
  /** Deviation of the note from the robust line through the notes' levels. */
  readonly deviation_dB: number;
  /** Median deviation of the note's pitch where that pitch is resonant or dead; null where it is neither. */
  readonly pitchExcess_dB: number | null;
  /** The same pitch's median deviation in the low and in the high lane; null where it was not measured. */
  readonly lowLaneExcess_dB: number | null;
  readonly highLaneExcess_dB: number | null;
}

/** The figures of `even` for the whole bass and for its low lane: one deviation per note in each list. */
export interface EvenFigures {
  /** Notes at a resonant or dead pitch, by their pitch's own deviation; 0 elsewhere. */
  readonly pitchDeviation_dB: readonly number[];
  /** Every note's own deviation. */
  readonly noteDeviation_dB: readonly number[];
}

/** A pitch whose low-lane excess is this much over its high-lane excess is ridden in the low lane only. */
export const LOW_LANE_ONLY_dB = 3;

/**
 * Where each note is ridden. With `laneApart` a pitch that stands out in the low lane only is left to an `even` in the low
 * lane, which spares its highs (they move by up to 2.3 dB instead of 3.8, measured for this project); otherwise the whole bass.
 */
export function evenFigures(
  notes: readonly NoteDeviation[],
  laneApart: boolean,
): { readonly whole: EvenFigures; readonly low: EvenFigures } {
  const whole: number[] = [];
  const low: number[] = [];
  for (const note of notes) {
    const excess_dB = note.pitchExcess_dB ?? 0;
    const inLow = laneApart && note.pitchExcess_dB !== null && standsOutInLowLaneOnly(note);
    whole.push(inLow ? 0 : excess_dB);
    low.push(inLow ? (note.lowLaneExcess_dB ?? excess_dB) : 0);
  }
  const own = notes.map((note) => note.deviation_dB);
  return {
    whole: { pitchDeviation_dB: whole, noteDeviation_dB: own },
    low: { pitchDeviation_dB: low, noteDeviation_dB: notes.map(() => 0) },
  };
}

function standsOutInLowLaneOnly(note: NoteDeviation): boolean {
  if (note.lowLaneExcess_dB === null || note.highLaneExcess_dB === null) return false;
  const direction = note.lowLaneExcess_dB < 0 ? -1 : 1;
  return direction * (note.lowLaneExcess_dB - note.highLaneExcess_dB) >= LOW_LANE_ONLY_dB;
}

/** What evenness would read after a ride, without rendering: spread P90 - P10 of level + gain, and what lies far off. */
export interface PredictedEvenness {
  readonly spread_dB: number;
  /** Share of notes more than 4 dB from the line, 0..1. */
  readonly shareBeyond4dB: number;
}

/**
 * Predicted in closed form: a gain that is constant over the measured part of a note moves its level by just that.
 * @param deviations_dB every note's own deviation from the line; their spread is that of the levels about the line.
 * @param ridden_dB the deviations that `even` works against, note by note.
 */
export function predictedEvenness(
  deviations_dB: readonly number[],
  ridden_dB: readonly number[],
  depth: number,
  maxRide_dB: number,
): PredictedEvenness {
  const after = deviations_dB.map((own, i) => own + evenGain_dB(ridden_dB[i] ?? 0, depth, maxRide_dB));
  const ascending = sorted(after);
  const middle = percentileOfSorted(ascending, 50);
  const far = after.filter((value) => Math.abs(value - middle) > 4).length;
  return {
    spread_dB: percentileOfSorted(ascending, 90) - percentileOfSorted(ascending, 10),
    shareBeyond4dB: after.length > 0 ? far / after.length : 0,
  };
}

/**
 * Least depth that meets the wish, by steps of 1 %; the depth of least spread, `met` false, where none does.
 * Wish: spread <= `spread_dB` and at most `shareBeyond` of the notes more than 4 dB off.
 */
export function evenDepth(
  deviations_dB: readonly number[],
  ridden_dB: readonly number[],
  maxRide_dB: number,
  wish: { readonly spread_dB: number; readonly shareBeyond: number },
): { readonly depth: number; readonly met: boolean; readonly predicted: PredictedEvenness } {
  let best = { depth: 0, met: false, predicted: predictedEvenness(deviations_dB, ridden_dB, 0, maxRide_dB) };
  for (let percent = 0; percent <= 100; percent++) {
    const depth = percent / 100;
    const predicted = predictedEvenness(deviations_dB, ridden_dB, depth, maxRide_dB);
    if (predicted.spread_dB <= wish.spread_dB && predicted.shareBeyond4dB <= wish.shareBeyond) {
      return { depth, met: true, predicted };
    }
    if (predicted.spread_dB < best.predicted.spread_dB) best = { depth, met: false, predicted };
  }
  return best;
}
