import { CommanderError, type Command } from 'commander';
import { PlainError } from '../core/units/plain-error.js';
import { buildProgram, type CommandActions } from './program.js';
import { EXIT, type Terminal } from './terminal.js';

/**
 * Runs one command line and gives its exit code. What cannot be done is said in three plain lines: the thing, the reason, what
 * to do. Anything else that is thrown is a fault of the program and is passed on.
 */
export async function runProgram(
  words: readonly string[],
  actions: CommandActions,
  version: string,
  terminal: Terminal,
): Promise<number> {
  let exitCode: number = EXIT.fine;
  const program = buildProgram(actions, version, (code) => (exitCode = code));
  for (const command of [program, ...program.commands]) speakThrough(command, terminal);
  try {
    await program.parseAsync([...words], { from: 'user' });
    return exitCode;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.fine : EXIT.badInput;
    if (!(error instanceof PlainError)) throw error;
    terminal.err(`${error.subject}\n${error.reason}\n${error.remedy}\n`);
    return EXIT.badInput;
  }
}

function speakThrough(command: Command, terminal: Terminal): void {
  command
    .exitOverride()
    .showHelpAfterError('Run it with --help to see what it takes.')
    .configureOutput({
      writeOut: (text) => terminal.out(text),
      writeErr: (text) => terminal.err(text),
      getOutHelpWidth: () => terminal.width,
      getErrHelpWidth: () => terminal.width,
    });
}
