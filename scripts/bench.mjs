/** `npm run bench`: builds, then says how fast the job is; `-- --check` fails where a limit of bench/limits.ts is passed. */
import { build } from './build.mjs';
import { install } from './install.mjs';
import { runStep } from './run-step.mjs';

install();
build();
runStep('bench', ['dist/bench/main.js', ...process.argv.slice(2)]);
