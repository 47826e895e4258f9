import { pathToFileURL } from 'node:url';
import { build } from './build.mjs';
import { install } from './install.mjs';
import { runStep, tools } from './run-step.mjs';

/** Lint and format over everything; types are checked by the build. */
export function checkSources() {
  runStep('lint', [tools.eslint, '.', '--max-warnings', '0']);
  runStep('format', [tools.prettier, '--check', '--log-level', 'warn', '.']);
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  install();
  build();
  checkSources();
}
