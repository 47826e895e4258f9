import { TICK } from '../dsp/stereo-unit.js';
import { PlainError } from '../units/plain-error.js';
import { parseAddress, stageAt, withStage } from './paths.js';
import type { SettingValue, Treatment } from './treatment.js';

/**
 * One change of a setting under way: `address` is a setting's (`bass.low.saturate.drive_dB`), or a stage's with `.on`
 * (`bass.centre.on`, a switch). Live sound and renders take the same list.
 */
export interface SettingChange {
  /** Song sample, as it enters the chain. */
  readonly sample: number;
  readonly address: string;
  readonly value: SettingValue;
}

/** A treatment that holds from a sample of the song on. */
export interface TreatmentFrom {
  readonly sample: number;
  readonly treatment: Treatment;
}

/**
 * The treatments that a list of changes makes, one for each moment. A change is taken over at the first tick that begins at
 * or after its sample, so that the host's block size does not matter.
 * @throws PlainError for an address that is not in the treatment, or a switch that is neither true nor false.
 */
export function treatmentsFrom(treatment: Treatment, changes: readonly SettingChange[]): TreatmentFrom[] {
  const list: TreatmentFrom[] = [];
  let now = treatment;
  for (const change of [...changes].sort((a, b) => a.sample - b.sample)) {
    now = withChange(now, change);
    const sample = Math.ceil(change.sample / TICK) * TICK;
    if (list.at(-1)?.sample === sample) list.pop();
    list.push({ sample, treatment: now });
  }
  return list;
}

/** The treatment with one setting or switch changed. */
export function withChange(treatment: Treatment, change: Pick<SettingChange, 'address' | 'value'>): Treatment {
  const switched = change.address.endsWith('.on');
  const { address, key } = parseAddress(switched ? change.address.slice(0, -'.on'.length) : change.address);
  const old = stageAt(treatment, address);
  if (old === null || (key === null) !== switched) {
    throw new PlainError(
      `change of ${change.address}`,
      'names no setting of this treatment.',
      'Write for instance bass.low.saturate.drive_dB, or bass.centre.on for the switch.',
    );
  }
  if (key !== null)
    return withStage(treatment, address, { ...old, settings: { ...old.settings, [key]: change.value } });
  if (typeof change.value !== 'boolean') {
    throw new PlainError(`change of ${change.address}`, 'is neither true nor false.', 'Give true or false.');
  }
  return withStage(treatment, address, { ...old, on: change.value });
}
