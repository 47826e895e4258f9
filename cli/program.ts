import { Command, Option } from 'commander';
import {
  PRINT_FORMATS,
  readAccept,
  readGain,
  readLeave,
  readMonoStems,
  readPrintName,
  readPrintRoles,
  readRole,
  readSetting,
  readWish,
  repeated,
  type DemoRequest,
  type PrintRequest,
  type SongRequest,
  type TreatRequest,
} from './requests.js';

/** What each command does, given what was asked of it; the number is the exit code. A command without an action is not offered. */
export interface CommandActions {
  readonly demo?: (request: DemoRequest) => Promise<number>;
  readonly inspect?: (request: SongRequest) => Promise<number>;
  readonly treat?: (request: TreatRequest) => Promise<number>;
  readonly print?: (request: PrintRequest) => Promise<number>;
  readonly proof?: (request: SongRequest) => Promise<number>;
}

const CAUTION =
  'Loud lows damage hearing and loudspeakers: begin at a low level, and keep to local rules and qualified advice.';

/** The whole command line as data: commands, options, help. `ended` gets the exit code of the action that ran. */
export function buildProgram(actions: CommandActions, version: string, ended: (exitCode: number) => void): Command {
  const program = new Command('keelson')
    .description('Measures, treats and proves the low end of a song: the kick and the bass.')
    .version(version, '--version', 'print the version')
    .helpOption('-h, --help', 'show help')
    .addHelpText('after', `\nA song is a folder of stems. Begin with: keelson inspect "My Song"\n${CAUTION}\n`);
  const run = async (code: Promise<number>) => ended(await code);

  const { demo, inspect, treat, print, proof } = actions;
  if (demo) addDemo(program, (request) => run(demo(request)));
  if (inspect) addInspect(program, (request) => run(inspect(request)));
  if (treat) addTreat(program, (request) => run(treat(request)));
  if (print) addPrint(program, (request) => run(print(request)));
  if (proof) addProof(program, (request) => run(proof(request)));
  return program;
}

function addDemo(program: Command, act: (request: DemoRequest) => Promise<void>): void {
  program
    .command('demo')
    .description('build the demo song, do the whole job on it, print and prove')
    .option('--output <folder>', 'where the demo goes')
    .option('--json', 'print the result as JSON')
    .action((options: { output?: string; json?: boolean }) =>
      act({ output: options.output ?? null, json: options.json ?? false }),
    );
}

function addInspect(program: Command, act: (request: SongRequest) => Promise<void>): void {
  songCommand(program, 'inspect', 'measure a song and say what its low end suffers from; writes no audio')
    .addHelpText(
      'after',
      examples('keelson inspect "My Song"', 'keelson inspect "My Song" --role kick="01 Kick*" --json'),
    )
    .action((folder: string, options: SongOptions) => act(songRequest(folder, options)));
}

function addTreat(program: Command, act: (request: TreatRequest) => Promise<void>): void {
  const command = songCommand(program, 'treat', 'show what would be done and why; do only what you agree to');
  command
    .optionsGroup('Your decisions, kept in keelson.json:')
    .option('--accept <findings>', 'treat these findings (comma between), or all', readAccept)
    .option('--leave <finding=reason>', 'leave a finding as it is, and why (repeat)', repeated(readLeave))
    .option('--later <findings>', 'decide later (comma between)', readAccept)
    .option('--wish <figure=result>', 'the result you want of a figure (repeat)', readWish)
    .option('--set <address=value>', 'set a value by hand, before anything solved (repeat)', repeated(readSetting))
    .option('--print', 'also print the stems and prove the result');
  printOptions(command)
    .addHelpText(
      'after',
      examples(
        'keelson treat "My Song"',
        'keelson treat "My Song" --accept wide-lows,covered-kick --leave rumble="keep the room"',
        'keelson treat "My Song" --accept all --wish clearance.share2dB=">= 90 %" --print',
        'keelson treat "My Song" --accept covered-kick --set bass.make-room.cut_dB=3',
      ),
    )
    .action((folder: string, options: TreatOptions) => act(treatRequest(folder, options)));
}

function addPrint(program: Command, act: (request: PrintRequest) => Promise<void>): void {
  printOptions(songCommand(program, 'print', 'render what was agreed to, write the stems and prove the result'))
    .addHelpText('after', examples('keelson print "My Song"', 'keelson print "My Song" --format 24'))
    .action((folder: string, options: PrintOptions) => act(printRequest(folder, options)));
}

function addProof(program: Command, act: (request: SongRequest) => Promise<void>): void {
  songCommand(program, 'proof', 'measure the newest print again and lay it beside its source')
    .addHelpText('after', examples('keelson proof "My Song"'))
    .action((folder: string, options: SongOptions) => act(songRequest(folder, options)));
}

interface SongOptions {
  readonly role?: SongRequest['roles'];
  readonly only?: string;
  readonly monoStems?: number;
  readonly strict?: boolean;
  readonly json?: boolean;
}

interface PrintOptions extends SongOptions {
  readonly format?: PrintRequest['format'];
  readonly gain?: number;
  readonly printRoles?: PrintRequest['printRoles'];
  readonly singleStems?: boolean;
  readonly name?: string;
}

interface TreatOptions extends PrintOptions {
  readonly accept?: readonly string[];
  readonly leave?: TreatRequest['leave'];
  readonly later?: readonly string[];
  readonly wish?: TreatRequest['wishes'];
  readonly set?: TreatRequest['settings'];
  readonly print?: boolean;
}

function songCommand(program: Command, name: string, description: string): Command {
  return program
    .command(`${name} <folder>`)
    .description(description)
    .optionsGroup('The song:')
    .option(
      '--role <role=file>',
      'say what a file is: kick, bass, rest, mix, reference, aside (repeat; * and ? allowed)',
      readRole,
    )
    .option('--only <pattern>', 'take only the files that fit, where a folder holds two songs')
    .option(
      '--mono-stems <dB>',
      'gain at which mono stems stand in both channels: 0 (usual), -3, -4.5 or -6',
      readMonoStems,
    )
    .optionsGroup('Output:')
    .option('--json', 'print one JSON object')
    .option('--strict', 'exit with 1 where there are findings or a wish is not reached');
}

function printOptions(command: Command): Command {
  return command
    .optionsGroup('Prints (what is not said is as in the last print):')
    .addOption(
      new Option('--format <depth>', '16 or 24 bits with dither, 32f for float, source for that of the stems').choices(
        PRINT_FORMATS,
      ),
    )
    .option('--gain <dB>', 'a gain on every rendered print, where one would pass full scale', readGain)
    .option('--print-roles <roles>', 'print only these roles (comma between): kick, bass, rest', readPrintRoles)
    .option('--single-stems', 'single stems beside a role that is printed as one (usual)')
    .option('--no-single-stems', 'none of them')
    .option('--name <pattern>', 'how prints are called: {name} stands for the usual name', readPrintName);
}

function songRequest(folder: string, options: SongOptions): SongRequest {
  const { role = [], only = null, monoStems = null, strict = false, json = false } = options;
  return { folder, roles: role, only, monoStems_dB: monoStems, strict, json };
}

function printRequest(folder: string, options: PrintOptions): PrintRequest {
  const { format = null, gain = null, printRoles = null, singleStems = null, name = null } = options;
  return { ...songRequest(folder, options), format, gain_dB: gain, printRoles, singleStems, printName: name };
}

function treatRequest(folder: string, options: TreatOptions): TreatRequest {
  const accept = options.accept ?? [];
  return {
    ...printRequest(folder, options),
    accept: accept.includes('all') ? 'all' : accept,
    leave: options.leave ?? [],
    later: options.later ?? [],
    wishes: options.wish ?? [],
    settings: options.set ?? [],
    print: options.print ?? false,
  };
}

function examples(...lines: readonly string[]): string {
  return `\nFor instance:\n${lines.map((line) => `  ${line}\n`).join('')}`;
}
