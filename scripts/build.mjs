import { existsSync, readdirSync, rmSync } from 'node:fs';
import { join, relative } from 'node:path';
import { pathToFileURL } from 'node:url';
import { install } from './install.mjs';
import { root, runStep, tools } from './run-step.mjs';

/** Compiles every project into dist/, and takes away what no source stands behind any more. */
export function build() {
  removeOrphans(join(root, 'dist'));
  runStep('build', [tools.tsc, '-b']);
  runStep('build the workbench', [tools.vite, 'build', '--logLevel', 'warn']);
}

/** A test whose source is gone must not go on running. */
function removeOrphans(dist) {
  if (!existsSync(dist)) return;
  for (const entry of readdirSync(dist, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile() || !/\.(js|d\.ts)$/.test(entry.name)) continue;
    const built = join(entry.parentPath ?? entry.path, entry.name);
    const path = relative(dist, built);
    if (path.startsWith('site')) continue;
    const source = join(root, path.replace(/\.(js|d\.ts)$/, '.ts'));
    if (!existsSync(source) && !existsSync(`${source}x`)) rmSync(built);
  }
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  install();
  build();
}
