import { spawnSync, type SpawnSyncReturns } from 'node:child_process';
import { join } from 'node:path';
import * as demo from '../../cli/commands/demo.js';
import * as inspect from '../../cli/commands/inspect.js';
import * as print from '../../cli/commands/print.js';
import * as proof from '../../cli/commands/proof.js';
import * as treat from '../../cli/commands/treat.js';
import type { CommandActions } from '../../cli/program.js';
import { runProgram } from '../../cli/run-program.js';
import { repositoryRoot } from '../repository-root.js';

/** What a command line gave. */
export interface Ran {
  readonly exitCode: number;
  readonly out: string;
  readonly err: string;
}

/** Runs a command line with the real commands in this process. A fault of the program is thrown, as bin/keelson would show it. */
export async function keelson(...words: readonly string[]): Promise<Ran> {
  let out = '';
  let err = '';
  const terminal = {
    out: (text: string) => (out += text),
    err: (text: string) => (err += text),
    width: 100,
    watched: false,
  };
  const actions: CommandActions = {
    demo: (request) => demo.run(request, terminal),
    inspect: (request) => inspect.run(request, terminal),
    treat: (request) => treat.run(request, terminal),
    print: (request) => print.run(request, terminal),
    proof: (request) => proof.run(request, terminal),
  };
  const exitCode = await runProgram(words, actions, '0', terminal);
  return { exitCode, out, err };
}

export const KEELSON = join(repositoryRoot, 'bin/keelson.mjs');

/** Runs bin/keelson as a process of its own. */
export function keelsonProcess(...words: readonly string[]): SpawnSyncReturns<string> {
  return spawnSync(process.execPath, [KEELSON, ...words], { encoding: 'utf8' });
}
