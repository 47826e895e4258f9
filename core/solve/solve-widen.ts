import { sideToMid_dB } from './side-to-mid.js';
import { asGiven, leftOff, settingOf, type StagePlace, type StageSolution } from './stage-solver.js';

/** Between the wish and what the stage's own filter leaves near its corner. */
const WITHIN_dB = 1;

/**
 * Widen: g^2 = wished S/M less what is there, a closed form inside the stage; solving only reads what is there. Left off where
 * the lane is wide enough already.
 */
export async function solveWiden(place: StagePlace): Promise<StageSolution> {
  const corner_Hz = settingOf(place, 'corner_Hz');
  const now = sideToMid_dB(place.input, corner_Hz);
  const { low = null, high = null } = place.wish ?? {};
  const middle = low !== null && high !== null ? 0.5 * (low + high) : (low ?? high);
  const wished = place.given.has('sideToMid_dB')
    ? settingOf(place, 'sideToMid_dB')
    : (middle ?? settingOf(place, 'sideToMid_dB'));
  if (now >= (place.given.has('sideToMid_dB') ? wished : (low ?? wished))) {
    return high !== null && now > high
      ? leftOff(place, now, 'Off: it is wider than wished already, and this stage only widens.', false)
      : leftOff(place, now, 'Off: it is wide enough already.');
  }
  const sideToMid = Math.max(-30, wished - (1 - place.strength) * 12);
  const figures = { sideToMidBefore_dB: now };
  const settings = { ...place.settings, sideToMid_dB: sideToMid };
  const { output } = await place.render({ stage: 'widen', on: true, settings, figures });
  const reached = sideToMid_dB(output, corner_Hz);
  const met =
    Math.abs(reached - wished) <= WITHIN_dB || (low !== null && reached >= low && reached <= (high ?? Infinity));
  return {
    ...asGiven(place, figures),
    settings,
    now,
    reached,
    met,
    trials: [{ amount: sideToMid, result: reached }],
    amountKey: 'sideToMid_dB',
    remark: met ? null : `Side to mid reaches ${reached.toFixed(1)} dB.`,
    output,
  };
}
