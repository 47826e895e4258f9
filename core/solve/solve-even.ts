import { evennessOf } from '../measure/evenness-of-levels.js';
import { measureEvenness, type EvennessMeasure } from '../measure/evenness.js';
import { evenDepth, evenFigures, evenGain_dB, predictedEvenness } from '../treatment/even-gains.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

/** At most this share of the notes may lie more than 4 dB off where all notes are ridden. */
const SHARE_BEYOND = 0.04;

/**
 * Even: the ride of every note in closed form. Pitches that ring or die are taken back to the line by their own median
 * deviation (the spread jumps and cannot be solved on); all notes by their own deviation, as deep as the wish needs.
 * Judged at the stage's own output.
 */
export function solveEven(place: StagePlace): StageSolution {
  const { song, settings, strength, wish } = place;
  const measured = measureEvenness({ ...song.source, bass: place.bassWith(place.input) }, song.known);
  if (measured.kind === 'unmeasurable') return leftOff(place, null, `Not solved: ${measured.reason}.`, null);
  const figures = figuresOf(measured);
  const spread = measured.spread_dB.kind === 'figure' ? measured.spread_dB.value : null;
  const all = settings['which'] === 'all';
  const ridden = all ? figures.noteDeviation_dB : figures.pitchDeviation_dB;
  if (ridden.every((deviation) => deviation === 0)) {
    return leftOff(place, all ? spread : furthestPitch(measured), 'Off: no pitch rings or dies on this bass.');
  }
  const maxRide_dB = settingOf(place, 'maxRide_dB');
  const counted = measured.notes.flatMap((note, i) => (note.counted ? [i] : []));
  const own = counted.map((i) => measured.notes[i]!.deviation_dB!);
  const ride = counted.map((i) => ridden[i]!);
  const wished = wish?.high ?? 3;
  const solved =
    all && !place.given.has('depth_percent')
      ? evenDepth(own, ride, maxRide_dB, { spread_dB: wished, shareBeyond: SHARE_BEYOND }).depth
      : settingOf(place, 'depth_percent') / 100;
  const depth = solved * strength;
  const after = afterRide(measured, counted, ride, depth, maxRide_dB);
  const reached = all ? predictedEvenness(own, ride, depth, maxRide_dB).spread_dB : after.furthest_dB;
  const limit = all ? wished : (wish?.high ?? 3);
  return {
    ...asGiven(place, { ...figures }),
    settings: { ...settings, depth_percent: 100 * depth },
    now: all ? spread : furthestPitch(measured),
    reached,
    met: reached <= limit,
    amountKey: 'depth_percent',
    remark: reached <= limit ? null : `The ride stops at ${maxRide_dB} dB; ${reached.toFixed(1)} dB are left.`,
  };
}

function figuresOf(measured: EvennessMeasure): {
  noteDeviation_dB: readonly number[];
  pitchDeviation_dB: readonly number[];
} {
  const faultOf = new Map(measured.pitches.filter((pitch) => pitch.fault !== null).map((pitch) => [pitch.midi, pitch]));
  return evenFigures(
    measured.notes.map((note) => {
      const pitch = faultOf.get(note.midi);
      return {
        deviation_dB: note.deviation_dB ?? 0,
        pitchExcess_dB: pitch?.median_dB ?? null,
        lowLaneExcess_dB: pitch?.lowLaneDeviation_dB ?? null,
        highLaneExcess_dB: pitch?.highLaneDeviation_dB ?? null,
      };
    }),
    false,
  ).whole;
}

function furthestPitch(measured: EvennessMeasure): number | null {
  return measured.pitchDeviation_dB.kind === 'figure' ? measured.pitchDeviation_dB.value : null;
}

/** The furthest judged pitch from the line after the ride, by the levels' closed form. */
function afterRide(
  measured: EvennessMeasure,
  counted: readonly number[],
  ride: readonly number[],
  depth: number,
  maxRide_dB: number,
): { furthest_dB: number } {
  const levels = counted.map((i, k) => measured.notes[i]!.level_dBFS! + evenGain_dB(ride[k]!, depth, maxRide_dB));
  const evenness = evennessOf(
    levels,
    counted.map((i) => measured.notes[i]!.frequency_Hz),
  );
  const judged = evenness.pitches.filter((pitch) => pitch.judged).map((pitch) => Math.abs(pitch.median_dB));
  return { furthest_dB: judged.length > 0 ? Math.max(...judged) : 0 };
}
