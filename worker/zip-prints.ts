import { zipSync } from 'fflate';
import type { SongFolder } from '../core/job/ports.js';

/** Files of the folder as one zip, stored as they are: sound does not shrink. */
export async function zipPrints(folder: SongFolder, paths: readonly string[]): Promise<Uint8Array> {
  const files: Record<string, Uint8Array> = {};
  for (const path of paths) {
    const source = await folder.open(path);
    files[path] = await source.read(0, source.size);
  }
  return zipSync(files, { level: 0 });
}
