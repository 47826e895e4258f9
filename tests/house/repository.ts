import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { repositoryRoot } from '../repository-root.js';

export const root = repositoryRoot;

/** Paths of all files under version control, and of new ones that are not ignored, with `/` between parts. */
export const files: readonly string[] = execFileSync(
  'git',
  ['ls-files', '-z', '--cached', '--others', '--exclude-standard'],
  { cwd: root, encoding: 'utf8' },
)
  .split('\0')
  .filter((path) => path !== '' && existsSync(join(root, path)));

export function textOf(path: string): string {
  return readFileSync(join(root, path), 'utf8');
}

/** Files whose text a person wrote: no sound, no picture, no lock file. */
export const textFiles = files.filter((path) => /\.(ts|mjs|js|json|md|html|css|yml|csv)$|^\.[^/]+$|^\.ci\//.test(path));
