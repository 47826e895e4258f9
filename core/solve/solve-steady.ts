import { loudNoteReduction_dB, steadyMakeUp_dB, steadyThreshold } from '../treatment/steady-threshold.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

/** Reduction asked for where the wish names none: the middle of 3 to 5 dB (common practice). */
const USUAL_dB = 4;

/**
 * Steady: the threshold that gives the wished reduction on the loud notes (P90 over notes of the mean reduction 50 to 250 ms
 * in), found open loop: the stage is feed-forward, so no sound has to be rendered. Make-up holds the lane's energy.
 */
export function solveSteady(place: StagePlace): StageSolution {
  const notes = place.song.known.notes;
  if (notes.length === 0) return leftOff(place, null, 'Not solved: no bass note found.', null);
  const low = place.wish?.low ?? null;
  const high = place.wish?.high ?? null;
  const wished = low !== null && high !== null ? 0.5 * (low + high) : (low ?? high ?? USUAL_dB);
  const fixed = {
    ratio: settingOf(place, 'ratio'),
    knee_dB: settingOf(place, 'knee_dB'),
    attack_ms: settingOf(place, 'attack_ms'),
    release_ms: settingOf(place, 'release_ms'),
  };
  const given = place.given.has('threshold_dBFS');
  const threshold_dBFS = given
    ? settingOf(place, 'threshold_dBFS')
    : steadyThreshold(place.input, notes, wished * place.strength, fixed).threshold_dBFS;
  const settings = { ...fixed, threshold_dBFS };
  const reached = loudNoteReduction_dB(place.input, notes, settings);
  if (!Number.isFinite(reached)) return leftOff(place, null, 'Not solved: no note lasts 60 ms.', null);
  const met = (low === null || reached >= low - 0.05) && (high === null || reached <= high + 0.05);
  return {
    ...asGiven(place, { makeUp_dB: steadyMakeUp_dB(place.input, settings) }),
    settings: { ...place.settings, threshold_dBFS },
    now: 0,
    reached,
    met,
    trials: [{ amount: threshold_dBFS, result: reached }],
    amountKey: 'threshold_dBFS',
    remark: met
      ? null
      : `The loud notes are held by ${reached.toFixed(1)} dB with the threshold at ${threshold_dBFS.toFixed(1)} dBFS.`,
  };
}
