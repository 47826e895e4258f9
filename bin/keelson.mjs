#!/usr/bin/env node
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const main = new URL('../dist/cli/main.js', import.meta.url);
if (existsSync(fileURLToPath(main))) {
  await import(main.href);
} else {
  process.stderr.write('keelson\nIt has not been built yet.\nRun: npm run build\n');
  process.exitCode = 2;
}
