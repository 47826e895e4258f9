import type { Inspection } from '../core/job/inspect-song.js';
import { readStem } from '../core/job/read-stem.js';
import { integratedLoudness } from '../core/measure/loudness.js';
import { sumOf } from '../core/signal/stereo-signal.js';
import { PlainError } from '../core/units/plain-error.js';
import type { Reading } from '../core/units/reading.js';

/** Integrated loudness of a reference as it stands in its file, BS.1770-5. @throws PlainError where the file is not at hand. */
export async function referenceLoudness({ song }: Inspection, file: string): Promise<Reading> {
  const found = song.files.find(({ stem }) => stem.file === file);
  if (found === undefined) throw new PlainError(file, 'It is not among the files of the song.', 'Open the song again.');
  return integratedLoudness(await readStem(found.open.reader));
}

/** Integrated loudness of all stems together, as they came. */
export function songLoudness({ song: { sound } }: Inspection): Reading {
  const mix = sumOf([sound.kick, sound.bass, sound.rest].filter((bus) => bus !== null));
  return integratedLoudness(mix!);
}
