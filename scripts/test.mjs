/**
 * `npm test`, also as the very first command on a fresh clone: installs, builds, lints, checks the format, then runs every
 * test. `npm test -- core/dsp` runs only the tests whose path contains every word given.
 */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { build } from './build.mjs';
import { checkSources } from './check.mjs';
import { install } from './install.mjs';
import { root, runStep } from './run-step.mjs';

install();
build();
checkSources();

const words = process.argv.slice(2);
const tests = readdirSync(join(root, 'dist'), { recursive: true })
  .map((path) => `dist/${path.replaceAll('\\', '/')}`)
  .filter((path) => path.endsWith('.test.js') && words.every((word) => path.includes(word)))
  .sort();
if (tests.length === 0) {
  process.stderr.write(`No test file${words.length > 0 ? ` has "${words.join('" and "')}" in its path` : ''}.\n`);
  process.exit(1);
}
const scope = words.length > 0 ? `only those with "${words.join('" and "')}": ` : '';
runStep(`test (${scope}${tests.length} files)`, ['--test', '--test-concurrency=2', '--test-reporter=spec', ...tests]);
