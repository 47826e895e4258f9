import { saturateMakeUp, saturateReference_FS } from '../treatment/saturate-level.js';
import type { StageInstance } from '../treatment/treatment.js';
import { searchLeast } from './bounded-search.js';
import { chooseExcerpt, cutHits, cutNotes, cutSignal } from './excerpt.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';
import { thirdHarmonic_dB } from './third-harmonic.js';

const MOST_DRIVE_dB = 18;
/** What a wish without limits means: the middle of the usual range. */
const USUAL_dB = -17;
const MOST_TRIALS = 7;

/**
 * Saturate: the drive at which the loud notes carry the wished third harmonic re their fundamental, found by rendering the lane
 * on an excerpt; reference and make-up are then measured over the whole lane.
 */
export async function solveSaturate(place: StagePlace): Promise<StageSolution> {
  const notes = place.song.known.notes;
  const reference_FS = saturateReference_FS(place.input);
  const now = thirdHarmonic_dB(place.input, notes);
  if (now === null) return leftOff(place, null, 'Not solved: no note lasts long enough to read its harmonics.', null);
  const { low = null, high = null } = place.wish ?? {};
  const wished = low !== null && high !== null ? 0.5 * (low + high) : (low ?? high ?? USUAL_dB);
  const given = place.given.has('drive_dB');
  if (!given && now >= (low ?? wished)) {
    return high !== null && now > high
      ? leftOff(place, now, 'Off: more third harmonic than wished is there already, and this stage only adds.', false)
      : leftOff(place, now, 'Off: that much third harmonic is there already.');
  }
  const search = given ? null : await searchDrive(place, reference_FS, wished);
  const drive_dB = (search?.amount ?? settingOf(place, 'drive_dB')) * place.strength;
  const settings = { ...place.settings, drive_dB };
  const { makeUpDrives_dB, makeUps_dB } = saturateMakeUp(place.input, settings, reference_FS, [drive_dB]);
  const figures = { reference_FS, makeUpDrives_dB, makeUps_dB };
  const { output } = await place.render({ stage: 'saturate', on: true, settings, figures });
  const reached = thirdHarmonic_dB(output, notes);
  const met = reached !== null && reached >= (low ?? wished - 1) && reached <= (high ?? wished + 1);
  return {
    ...asGiven(place, figures),
    settings,
    now,
    reached,
    met,
    trials: search?.trials ?? [],
    amountKey: 'drive_dB',
    remark: met
      ? null
      : `The third harmonic reaches ${reached?.toFixed(1) ?? 'no'} dB at ${drive_dB.toFixed(1)} dB of drive.`,
    output,
  };
}

function searchDrive(place: StagePlace, reference_FS: number, wished_dB: number) {
  const { notes, hits } = place.song.known;
  const excerpt = chooseExcerpt(place.input.left.length, place.input.sampleRate_Hz, []);
  const input = cutSignal(place.input, excerpt);
  const on = { input, notes: cutNotes(notes, excerpt), hits: cutHits(hits, excerpt) };
  return searchLeast({
    least: 0,
    most: MOST_DRIVE_dB,
    start: 6,
    target: wished_dB,
    tolerance: 0.4,
    direction: 1,
    maxTrials: MOST_TRIALS,
    evaluate: async (drive_dB) => {
      const instance: StageInstance = {
        stage: 'saturate',
        on: true,
        settings: { ...place.settings, drive_dB },
        figures: { reference_FS },
      };
      const { output } = await place.render(instance, on);
      return thirdHarmonic_dB(output, on.notes) ?? wished_dB;
    },
    afterTrial: ({ result }) => place.searched('saturate.thirdHarmonic_dB', result),
  });
}
