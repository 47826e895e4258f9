import { power_to_dB } from '../units/decibels.js';
import { lowsEnergy } from '../measure/lows-energy.js';
import { asGiven, leftOff, type StagePlace, type StageSolution } from './stage-solver.js';

/** Less than this is not worth a stage. */
const LEAST_dB = 0.005;

/**
 * Trim: one gain on the bass that holds E(kick) + E(bass), 30 to 150 Hz, at the source's. Powers are added, so that a gain in
 * agreement is not taken back. Closed form: g^2 = (E_source - E(kick)) / E(bass).
 */
export function solveTrim(place: StagePlace): StageSolution {
  if (place.given.has('gain_dB')) return asGiven(place);
  const { source } = place.song;
  const wanted = lowsEnergy(source.kick) + lowsEnergy(source.bass);
  const kick = lowsEnergy(place.kick);
  const bass = lowsEnergy(place.input);
  if (!(bass > 0) || !(wanted > kick)) return leftOff(place, null, 'Not solved: no lows are left in the bass.', null);
  const change_dB = power_to_dB((kick + bass) / wanted);
  const gain_dB = Math.max(-24, Math.min(24, power_to_dB((wanted - kick) / bass)));
  if (Math.abs(gain_dB) < LEAST_dB) return leftOff(place, change_dB, 'Off: the lows are held without it.');
  return {
    ...asGiven(place),
    settings: { ...place.settings, gain_dB },
    now: change_dB,
    reached: 0,
    met: true,
    trials: [{ amount: gain_dB, result: 0 }],
    amountKey: 'gain_dB',
    remark: null,
  };
}
