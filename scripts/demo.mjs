/** `npm run demo`, also as the very first command on a fresh clone: installs, builds, then does the whole job on the demo song. */
import { build } from './build.mjs';
import { install } from './install.mjs';
import { runStep } from './run-step.mjs';

install();
build();
runStep('demo', ['bin/keelson.mjs', 'demo', ...process.argv.slice(2)]);
