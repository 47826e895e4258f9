import { measureParts, mergedParts, PART_NAMES, type MeasuredParts, type PartName } from '../measure/measure-parts.js';
import type { Measurements } from '../measure/measurements.js';
import type { Knowledge, SongSound } from '../measure/song-sound.js';

/** `measureSong`, with a pause after each part. */
export async function measureWithPauses(
  sound: SongSound,
  known: Knowledge,
  pause: () => Promise<unknown>,
): Promise<Measurements> {
  return mergedParts(known, [await partsWithPauses(sound, known, PART_NAMES, pause)]);
}

/** `measureParts`, with a pause after each part. */
export async function partsWithPauses(
  sound: SongSound,
  known: Knowledge,
  names: readonly PartName[],
  pause: () => Promise<unknown>,
): Promise<MeasuredParts> {
  let parts: MeasuredParts = {};
  for (const name of names) {
    parts = { ...parts, ...measureParts(sound, known, [name]) };
    await pause();
  }
  return parts;
}
