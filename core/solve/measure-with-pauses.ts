import { measureParts, type MeasuredParts, type PartName } from '../measure/measure-parts.js';
import type { Knowledge, SongSound } from '../measure/song-sound.js';

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
