import { isTreated } from '../../core/treatment/paths.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import { REST_BED } from '../../protocol/sound-request.js';

/** The treatment as it is played: the rest is one bed unless something in it is on, so that the audio thread holds less. */
export function liveTreatment(treatment: Treatment): Treatment {
  if (treatment.rest.tracks.length === 0 || isTreated(treatment, 'rest')) return treatment;
  return { ...treatment, rest: { ...treatment.rest, tracks: [{ file: REST_BED, stages: [] }] } };
}
