import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PlainError } from '../core/units/plain-error.js';
import { runProgram } from './run-program.js';
import type { CommandActions } from './program.js';
import type { PrintRequest, SongRequest, TreatRequest } from './requests.js';

async function run(words: readonly string[], actions: Partial<CommandActions> = {}) {
  const calls: unknown[] = [];
  const call = async (request: unknown) => {
    calls.push(request);
    return 0;
  };
  let out = '';
  let err = '';
  const terminal = {
    out: (text: string) => (out += text),
    err: (text: string) => (err += text),
    width: 80,
    watched: false,
  };
  const all = { demo: call, inspect: call, treat: call, print: call, proof: call, ...actions };
  const exitCode = await runProgram(words, all, '1.2.3', terminal);
  return { exitCode, out, err, request: calls[0] };
}

test('a plain inspect', async () => {
  const { exitCode, request } = await run(['inspect', 'My Song']);
  assert.equal(exitCode, 0);
  assert.deepEqual(request, {
    folder: 'My Song',
    roles: [],
    only: null,
    monoStems_dB: null,
    strict: false,
    json: false,
  } satisfies SongRequest);
});

test('options that repeat add up, and are read where they stand', async () => {
  const { request, err } = await run([
    ...[
      'treat',
      'Song',
      '--role',
      'kick=01 Kick In.wav',
      '--role',
      'bass=B*',
      '--only',
      'Alder*',
      '--mono-stems',
      '-3',
      '--strict',
      '--json',
      '--print',
    ],
    ...[
      '--accept',
      'wide-lows,covered-kick',
      '--accept',
      'rumble',
      '--leave',
      'dc-offset=keep = it',
      '--later',
      'uneven-notes',
    ],
    ...[
      '--wish',
      'clearance.share2dB=>= 90 %',
      '--set',
      'bass.make-room.cut_dB=3',
      '--set',
      'bass["A.wav"].align.delay_ms=-1',
    ],
    ...['--format', '24', '--gain', '-1.5 dB', '--print-roles', 'kick, bass', '--no-single-stems'],
    ...['--name', '{name} low end'],
  ]);
  assert.equal(err, '');
  assert.deepEqual(request, {
    folder: 'Song',
    roles: [
      { role: 'kick', pattern: '01 Kick In.wav' },
      { role: 'bass', pattern: 'B*' },
    ],
    only: 'Alder*',
    monoStems_dB: -3,
    strict: true,
    json: true,
    print: true,
    accept: ['wide-lows', 'covered-kick', 'rumble'],
    leave: [{ finding: 'dc-offset', reason: 'keep = it' }],
    later: ['uneven-notes'],
    wishes: [{ statistic: 'clearance.share2dB', low: 0.9, high: null }],
    settings: [
      { address: 'bass.make-room.cut_dB', text: '3' },
      { address: 'bass["A.wav"].align.delay_ms', text: '-1' },
    ],
    format: '24',
    gain_dB: -1.5,
    printRoles: ['kick', 'bass'],
    singleStems: false,
    printName: '{name} low end',
  } satisfies TreatRequest);
});

test('accept all, and what is not said', async () => {
  const { request } = await run(['treat', 'Song', '--accept', 'all']);
  const { accept, leave, wishes, settings, print, format } = request as TreatRequest;
  assert.deepEqual(
    { accept, leave, wishes, settings, print, format },
    {
      accept: 'all',
      leave: [],
      wishes: [],
      settings: [],
      print: false,
      format: null,
    },
  );
  const plain = (await run(['print', 'Song'])).request as PrintRequest;
  assert.deepEqual([plain.gain_dB, plain.printRoles, plain.singleStems, plain.printName], [null, null, null, null]);
  const again = (await run(['print', 'Song', '--single-stems', '--format', 'source'])).request as PrintRequest;
  assert.deepEqual([again.singleStems, again.format], [true, 'source']);
});

test('a song named like an option comes after two dashes', async () => {
  assert.equal(((await run(['inspect', '--', '-Song'])).request as SongRequest).folder, '-Song');
});

test('the exit code of the command is the exit code', async () => {
  for (const code of [0, 1, 2])
    assert.equal((await run(['inspect', 'x'], { inspect: async () => code })).exitCode, code);
});

const mistakes: readonly (readonly string[])[] = [
  ['mend', 'Song'],
  ['inspect'],
  ['inspect', 'Song', 'Another'],
  ['inspect', 'Song', '--loud'],
  ['inspect', 'Song', '--role', 'drums=x.wav'],
  ['print', 'Song', '--format', '12'],
  ['print', 'Song', '--gain', 'loud'],
  ['treat', 'Song', '--accept', 'Wide Lows'],
  ['treat', 'Song', '--leave', 'rumble'],
  ['treat', 'Song', '--set', 'cut=3'],
  ['treat', 'Song', '--wish', 'clearance=loud'],
];

for (const words of mistakes) {
  test(`exit 2 and a plain word: ${words.join(' ')}`, async () => {
    const { exitCode, out, err, request } = await run(words);
    assert.equal(exitCode, 2);
    assert.equal(out, '');
    assert.ok(err.length > 0 && !/\n\s+at /.test(err), err);
    assert.equal(request, undefined, 'nothing was done');
  });
}

test('what cannot be done is three lines on the error output', async () => {
  const inspect = async () => Promise.reject(new PlainError('Kick.wav', 'It is empty.', 'Export it again.'));
  const { exitCode, out, err } = await run(['inspect', 'Song'], { inspect });
  assert.deepEqual([exitCode, out, err], [2, '', 'Kick.wav\nIt is empty.\nExport it again.\n']);
});

test('a fault of the program is not hidden', async () => {
  const inspect = async () => Promise.reject(new TypeError('a fault'));
  await assert.rejects(run(['inspect', 'Song'], { inspect }), TypeError);
});

test('help names every command with its caution and fits the width', async () => {
  const { exitCode, out, err } = await run(['--help']);
  assert.deepEqual([exitCode, err], [0, '']);
  for (const command of ['demo', 'inspect', 'treat', 'print', 'proof'])
    assert.match(out, new RegExp(`^  ${command}\\b`, 'm'));
  assert.match(out, /damage hearing/);
  const treat = (await run(['treat', '--help'])).out;
  for (const option of [
    '--role',
    '--only',
    '--accept',
    '--leave',
    '--wish',
    '--set',
    '--print',
    '--format',
    '--gain',
    '--strict',
    '--json',
  ]) {
    assert.match(treat, new RegExp(`^  ${option}\\b`, 'm'));
  }
  assert.match(treat, /For instance:/);
});

test('a command without an action is not offered', async () => {
  let err = '';
  const terminal = { out: () => undefined, err: (text: string) => (err += text), width: 80, watched: false };
  assert.equal(await runProgram(['inspect', 'x'], {}, '1', terminal), 2);
  assert.match(err, /unknown command|too many arguments/);
});

test('the version', async () => {
  assert.deepEqual((await run(['--version'])).out, '1.2.3\n');
});
