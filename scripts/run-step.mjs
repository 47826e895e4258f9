import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The folder that holds package.json. */
export const root = fileURLToPath(new URL('..', import.meta.url));

/** Where the installed tools keep their entry files; run with this very Node, so that no shell or PATH decides. */
export const tools = {
  tsc: 'node_modules/typescript/bin/tsc',
  eslint: 'node_modules/eslint/bin/eslint.js',
  prettier: 'node_modules/prettier/bin/prettier.cjs',
  vite: 'node_modules/vite/bin/vite.js',
};

/** Runs one step with its output passed through, and ends this process with the step's own exit code where it fails. */
export function runStep(title, args, command = process.execPath) {
  process.stdout.write(`\n== ${title}\n`);
  const { status, signal, error } = spawnSync(command, args, { cwd: root, stdio: 'inherit' });
  if (status === 0) return;
  if (error) process.stderr.write(`${title}: ${error.message}\n`);
  if (signal) process.stderr.write(`${title}: ended by ${signal}\n`);
  process.exit(status || 1);
}
