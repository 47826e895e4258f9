import { defaultTreatment } from '../../core/treatment/paths.js';
import type { Treatment, TreatedRole } from '../../core/treatment/treatment.js';
import type { SoundingSong } from '../../protocol/sound-request.js';

/** The song as it came, every stage off: what is played until it is measured. */
export function plainTreatment({ sampleRate_Hz, files }: SoundingSong): Treatment {
  const names = (role: TreatedRole) => files[role].map(({ file }) => file);
  return defaultTreatment({
    ...{ sampleRate_Hz, notes: [], hits: [] },
    files: { kick: names('kick'), bass: names('bass'), rest: names('rest') },
  });
}

/** Whether a treatment is one of the very files that sound. */
export function isOfFiles(treatment: Treatment, { sampleRate_Hz, files }: SoundingSong): boolean {
  const same = (role: TreatedRole) =>
    treatment[role].tracks.length === files[role].length &&
    treatment[role].tracks.every(({ file }, i) => file === files[role][i]!.file);
  return treatment.sampleRate_Hz === sampleRate_Hz && same('kick') && same('bass') && same('rest');
}
