import { onsetGain_dB } from '../treatment/onset-gain.js';
import { onsetOverSustain_dB } from './onset-over-sustain.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

/**
 * Onset: the gain is the wished onset over sustain less what is there, in closed form; a wish says by how much the onsets are
 * to rise over what they were.
 */
export async function solveOnset(place: StagePlace): Promise<StageSolution> {
  const now = onsetOverSustain_dB(place.input, place.song.known.notes);
  if (now === null)
    return leftOff(place, null, 'Not solved: no note lasts long enough to tell onset from sustain.', null);
  const wished = place.wish?.low ?? place.wish?.high ?? settingOf(place, 'gain_dB');
  const gain = place.given.has('gain_dB') ? settingOf(place, 'gain_dB') : onsetGain_dB(0, wished);
  const gain_dB = gain * place.strength;
  if (gain_dB === 0) return leftOff(place, 0, 'Off: nothing is asked of the onsets.');
  const { output } = await place.render({
    stage: 'onset',
    on: true,
    settings: { ...place.settings, gain_dB },
    figures: {},
  });
  const reached = (onsetOverSustain_dB(output, place.song.known.notes) ?? now) - now;
  return {
    ...asGiven(place),
    settings: { ...place.settings, gain_dB },
    now: 0,
    reached,
    met: reached >= wished - 0.3,
    trials: [{ amount: gain_dB, result: reached }],
    amountKey: 'gain_dB',
    output,
    remark: reached >= wished - 0.3 ? null : `Onsets rise by ${reached.toFixed(1)} dB: many notes follow too closely.`,
  };
}
