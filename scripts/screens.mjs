/** `npm run screens`: builds, then takes the pictures of docs/screens anew from the page with the demo song. */
import { build } from './build.mjs';
import { install } from './install.mjs';
import { runStep } from './run-step.mjs';

install();
build();
runStep('screens', ['dist/tests/browser/screens-of-docs.js', ...process.argv.slice(2)]);
