import { readFileSync } from 'node:fs';
import type { CommandActions } from './program.js';
import { runProgram } from './run-program.js';
import { EXIT, processTerminal } from './terminal.js';

const terminal = processTerminal();

/** Each command's module is imported only when it is called, so that help and mistakes answer at once. */
const actions: CommandActions = {
  demo: async (request) => (await import('./commands/demo.js')).run(request, terminal),
  inspect: async (request) => (await import('./commands/inspect.js')).run(request, terminal),
  treat: async (request) => (await import('./commands/treat.js')).run(request, terminal),
  print: async (request) => (await import('./commands/print.js')).run(request, terminal),
  proof: async (request) => (await import('./commands/proof.js')).run(request, terminal),
};

// Prints stand under their final names only when whole, so ending at once leaves nothing half-written.
process.once('SIGINT', () => {
  terminal.err('\nStopped. What was finished stays; nothing half-written is left under a final name.\n');
  process.exit(EXIT.interrupted);
});

// A reader that has seen enough (`| head`) is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(EXIT.fine);
});

const { version } = JSON.parse(readFileSync(new URL('../../package.json', import.meta.url), 'utf8')) as {
  version: string;
};
process.exitCode = await runProgram(process.argv.slice(2), actions, version, terminal);
