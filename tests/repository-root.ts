import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';

/** The folder that holds package.json, from the sources as from dist/. */
export const repositoryRoot = rootAbove(import.meta.dirname);

function rootAbove(folder: string): string {
  return existsSync(join(folder, 'package.json')) ? folder : rootAbove(dirname(folder));
}
