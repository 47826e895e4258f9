import assert from 'node:assert/strict';
import { chmod, mkdir, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { test } from 'node:test';
import { inspectSchema } from '../../core/session/inspect-format.js';
import { SeededRandom } from '../../core/units/seeded-random.js';
import { monoSignal, type StereoSignal } from '../../core/signal/stereo-signal.js';
import { formatContent, riffBytes, type FormatWords, wavBytes, words16 } from '../sound-bytes/wav-bytes.js';
import { keelson, type Ran } from './keelson.js';
import { smallSong } from '../songs/small-song.js';
import { everyFile, folderWith, sourcesOf, stemBytes, type FolderFiles } from './song-folder.js';
import type { TreatReport } from './whole-job.js';

type Reading = { readonly value: number | null; readonly reason?: string };
type Inspected = TreatReport['inspect'] & {
  readonly kick: { readonly hits: readonly unknown[] };
  readonly bass: { readonly notes: readonly unknown[] };
  readonly measures: { readonly clearance: { readonly p10_dB: Reading } };
};

const { kick, bass } = smallSong();
const KICK = stemBytes(kick, { depth: '16' });
const BASS = stemBytes(bass, { depth: '16' });
const GOOD = { 'Kick.wav': KICK, 'Bass.wav': BASS };

/** Refused with exit 2 and three plain lines, no trace, nothing on the output, nothing left behind, the sources as they were. */
async function refused(files: FolderFiles, what: RegExp, words: readonly string[] = [], command = 'inspect') {
  const folder = await folderWith(files);
  const before = await everyFile(folder);
  assertRefusal(await keelson(command, folder, ...words), what);
  assert.deepEqual(await everyFile(folder), before);
}

function assertRefusal({ exitCode, out, err }: Ran, what: RegExp): void {
  assert.equal(exitCode, 2, err);
  assert.equal(out, '');
  assert.match(err, what);
  assert.doesNotMatch(err, /^\s+at /m);
  assert.ok(err.trim().split('\n').length >= 3, err);
}

/** Inspected all the same; the report keeps its contract, and the sources their bytes and times. */
async function inspected(files: FolderFiles, words: readonly string[] = []): Promise<Inspected> {
  const folder = await folderWith(files);
  const sources = await sourcesOf(folder);
  const { exitCode, out, err } = await keelson('inspect', folder, '--json', ...words);
  assert.deepEqual([exitCode, err], [0, '']);
  assert.deepEqual(await sourcesOf(folder), sources);
  const report = JSON.parse(out) as Inspected;
  const checked = inspectSchema.safeParse(report);
  assert.ok(checked.success, checked.error?.message);
  return report;
}

function faultsOf(report: Inspected, file: string): string[] {
  return report.song.stems.find((stem) => stem.file === file)!.faults.map(({ id }) => id);
}

function findingOf(report: Inspected, id: string, file: string): boolean {
  return report.findings.some((finding) => finding.id === id && finding.where.files.includes(file));
}

/** Bad files beside good ones: the song goes on without them, and they are named. */
const headerOnly = (words: FormatWords) => wavBytes(words, words16([1, 2, 3, 4]));
const unreadable: readonly (readonly [what: string, file: string, bytes: Uint8Array | string, said: RegExp])[] = [
  ['an empty file', 'Keys.wav', new Uint8Array(0), /empty/],
  ['a header cut short', 'Keys.wav', KICK.slice(0, 20), /cut short|no sound/i],
  ['0 channels', 'Keys.wav', headerOnly({ channels: 0, blockAlign: 2 }), /0 channels/],
  ['64 channels', 'Keys.wav', wavBytes({ channels: 64 }, new Uint8Array(64 * 2 * 10)), /64 channels/],
  ['a rate of 1 Hz', 'Keys.wav', headerOnly({ sampleRate_Hz: 1 }), /sample rate of 1 Hz/],
  ['a rate of 4 GHz', 'Keys.wav', headerOnly({ sampleRate_Hz: 4_000_000_000 }), /sample rate of 4000000000 Hz/],
  ['a header without sound', 'Keys.wav', wavBytes({}, new Uint8Array(0)), /no sound/],
  ['text that calls itself WAV', 'Keys.wav', 'a shopping list\n', /text file/],
  ['another format that calls itself WAV', 'Keys.wav', 'OggS\0\0\0\0', /Ogg/],
];

for (const [what, file, bytes, said] of unreadable) {
  test(`beside good stems, ${what}: named, and the song is inspected without it`, async () => {
    const report = await inspected({ ...GOOD, [file]: bytes });
    assert.deepEqual(faultsOf(report, file), ['unreadable']);
    assert.match(report.song.stems.find((stem) => stem.file === file)!.faults[0]!.sentence, said);
    assert.ok(findingOf(report, 'file-fault', file));
  });

  test(`alone, ${what}: refused`, () => refused({ [file.replace('Keys', 'Kick')]: bytes }, said));
}

function withSamples(change: (samples: Float64Array) => void, signal: StereoSignal = kick): Uint8Array {
  const samples = Float64Array.from(signal.left);
  change(samples);
  return stemBytes(monoSignal(samples, signal.sampleRate_Hz), { depth: '32f' });
}

/** Faults that a song can live with, named at the file. */
const livedWith: readonly (readonly [what: string, file: string, bytes: Uint8Array, fault: string])[] = [
  ['cut short in the middle of its samples', 'Kick.wav', KICK.slice(0, KICK.length - 30_001), 'declared-length'],
  ['NaN among the samples', 'Kick.wav', withSamples((x) => x.fill(NaN, 1000, 1010)), 'not-finite-samples'],
  ['infinite samples', 'Kick.wav', withSamples((x) => x.fill(-Infinity, 90_000, 90_003)), 'not-finite-samples'],
  ['WAV that calls itself AIFF', 'Kick.aif', KICK, 'wrong-extension'],
  ['a silent stem', 'Keys.wav', stemBytes(monoSignal(new Float64Array(48_000), 48_000)), 'silent'],
];

for (const [what, file, bytes, fault] of livedWith) {
  test(`${what}: a file fault, and the song is inspected`, async () => {
    const others = file.startsWith('Kick') ? { 'Bass.wav': BASS } : GOOD;
    const report = await inspected({ ...others, [file]: bytes });
    assert.deepEqual(faultsOf(report, file), [fault]);
    assert.ok(findingOf(report, 'file-fault', file));
    assert.ok(report.kick.hits.length >= 6);
  });
}

test('a silent kick and a silent bass: inspected, what cannot be measured is said', async () => {
  const silence = stemBytes(monoSignal(new Float64Array(96_000), 48_000));
  for (const file of ['Kick.wav', 'Bass.wav']) {
    const report = await inspected({ ...GOOD, [file]: silence });
    assert.deepEqual(faultsOf(report, file), ['silent']);
    assert.equal(report.measures.clearance.p10_dB.value, null);
    assert.ok(report.measures.clearance.p10_dB.reason!.length > 5);
  }
  const both = await inspected({ 'Kick.wav': silence, 'Bass.wav': silence });
  assert.deepEqual([both.kick.hits, both.bass.notes], [[], []]);
});

test('big-endian RIFF is a stem like any other', async () => {
  const data = Buffer.from(KICK.subarray(44)).swap16();
  const rifx = riffBytes(
    [
      { id: 'fmt ', content: formatContent({}, true) },
      { id: 'data', content: data },
    ],
    'RIFX',
  );
  const [swapped, plain] = [await inspected({ ...GOOD, 'Kick.wav': rifx }), await inspected(GOOD)];
  assert.deepEqual(faultsOf(swapped, 'Kick.wav'), []);
  assert.deepEqual(swapped.kick, plain.kick);
});

const names = [
  '-kick.wav',
  'Bass $(rm) `x` "y" \'z\'.wav',
  'Keys  two.wav',
  'Keys caf\u00e9.wav',
  'Snare cafe\u0301.wav',
  'Guitar \u{1f3b8}.wav',
  'Pad\nline two.wav',
];

test('names with spaces, accents in both forms, signs, a line feed, a dash: read, told, copied and printed', async () => {
  const [kickName, bassName, ...restNames] = names as [string, string, ...string[]];
  const noises = restNames.map((name, i) => [name, stemBytes(noise(i + 1), { depth: '16' })] as const);
  const folder = await folderWith({ [bassName]: BASS, [kickName]: KICK, ...Object.fromEntries(noises) });
  const sources = await sourcesOf(folder);
  const set = `rest[${JSON.stringify(restNames[0])}].clean.lowCut=on`;
  const roles = [
    '--role',
    `kick=${kickName}`,
    '--role',
    `bass=${bassName}`,
    ...restNames.flatMap((n) => ['--role', `rest=${n}`]),
  ];
  const words = ['--set', set, '--set', 'bass.trim.gain_dB=-1', '--print', '--json', ...roles];
  const { exitCode, out, err } = await keelson('treat', folder, ...words);
  assert.deepEqual([exitCode, err], [0, '']);
  const printed = (JSON.parse(out) as TreatReport).print!.files.map(({ path }) => path);
  assert.deepEqual([...printed].sort(), names.map((name) => `Keelson prints/v1/${name}`).sort());
  const standing = await everyFile(folder);
  for (const name of names) assert.ok(standing[`Keelson prints/v1/${name}`] !== undefined, name);
  assert.equal(standing[`Keelson prints/v1/${kickName}`], standing[kickName]);
  assert.notEqual(standing[`Keelson prints/v1/${bassName}`], standing[bassName]);
  assert.deepEqual(await sourcesOf(folder), sources);
  const told = await keelson('inspect', folder);
  assert.deepEqual([told.exitCode, told.err], [0, '']);
  for (const line of told.out.split('\n'))
    assert.ok(!line.startsWith('line two'), 'a line feed in a name breaks no line');
});

function noise(seed: number): StereoSignal {
  const random = new SeededRandom(seed);
  return monoSignal(
    Float64Array.from({ length: 96_000 }, () => random.between(-0.05, 0.05)),
    48_000,
  );
}

test('a song folder with a leading dash, named after two dashes or by a path', async () => {
  const folder = await folderWith(GOOD, '-song');
  assert.equal((await keelson('inspect', '--', folder)).exitCode, 0);
});

test('no kick: only what can be measured; no bass: the same; neither: asked', async () => {
  const noKick = await inspected({ 'Bass.wav': BASS });
  assert.match(noKick.song.remarks.join(), /no kick/);
  assert.ok(noKick.bass.notes.length >= 5);
  assert.equal(noKick.measures.clearance.p10_dB.value, null);
  const noBass = await inspected({ 'Kick.wav': KICK });
  assert.match(noBass.song.remarks.join(), /no bass/);
  assert.ok(noBass.kick.hits.length >= 6);
  await refused({ 'Keys.wav': KICK }, /neither a kick nor a bass/);
});

test('treat, print and proof go through without a kick, and without a bass', async () => {
  for (const [file, bytes, setting] of [
    ['Bass.wav', BASS, 'bass.trim.gain_dB=-1'],
    ['Kick.wav', KICK, 'kick.clean.corner_Hz=30'],
  ] as const) {
    const folder = await folderWith({ [file]: bytes });
    const { exitCode, err } = await keelson('treat', folder, '--accept', 'all', '--set', setting, '--print');
    assert.deepEqual([exitCode, err], [0, '']);
    assert.equal((await keelson('proof', folder)).exitCode, 0);
  }
});

test('kick and bass in one stem: refused, and how to go on', async () => {
  await refused({ 'Kick+Bass.wav': KICK, 'Keys.wav': BASS }, /Kick and bass seem to be in one stem[^]*--role/);
});

const TWO_SONGS = {
  'Alder - Kick.wav': KICK,
  'Alder - Bass.wav': BASS,
  'Birch - Kick.wav': KICK,
  'Birch - Bass.wav': BASS,
};

test('two songs in one folder: refused with the --only that picks one', () => refused(TWO_SONGS, /2 songs[^]*--only/));

test('--only picks one song, then the other, from one folder; roles said of one do not bind the other', async () => {
  const folder = await folderWith(TWO_SONGS);
  for (const song of ['Alder', 'Birch', 'Alder']) {
    const words = ['--only', `${song}*`, '--role', `kick=${song} - Kick.wav`, '--json'];
    const { exitCode, out, err } = await keelson('inspect', folder, ...words);
    assert.deepEqual([exitCode, err], [0, '']);
    const roles = (JSON.parse(out) as Inspected).song.stems.map(({ file, role }) => [file, role]);
    assert.deepEqual(
      roles.filter(([, role]) => role !== 'aside'),
      [
        [`${song} - Bass.wav`, 'bass'],
        [`${song} - Kick.wav`, 'kick'],
      ],
    );
  }
});

test('what is no song folder: a file, a missing path, an empty folder, one without sound', async () => {
  const folder = await folderWith({ 'Kick.wav': KICK });
  assertRefusal(await keelson('inspect', join(folder, 'Kick.wav')), /file, not a folder/);
  assertRefusal(await keelson('inspect', join(folder, 'nowhere')), /no such/);
  await refused({}, /no sound files/);
  await refused({ 'notes.txt': 'x' }, /no sound files/);
  await refused({ 'Kick.mp3': 'x' }, /format that stems are not kept in/);
});

test('a folder named like a stem, a broken link, hidden rests of a crash and notes are left alone', async () => {
  const folder = await folderWith({ ...GOOD, '._Kick.wav': 'x', '.Keys.wav.keelson-part': 'x', 'notes.txt': 'x' });
  await mkdir(join(folder, 'Keys.wav'));
  await symlink(join(folder, 'gone.wav'), join(folder, 'Snare.wav'));
  const { exitCode, out, err } = await keelson('inspect', folder, '--json');
  assert.deepEqual([exitCode, err], [0, '']);
  const report = JSON.parse(out) as Inspected;
  assert.deepEqual(
    report.song.stems.map(({ file, role }) => [file, role]),
    [
      ['Bass.wav', 'bass'],
      ['Kick.wav', 'kick'],
      ['Snare.wav', 'aside'],
    ],
  );
});

/** Permissions mean nothing to the superuser: then the work is done as nobody. */
async function withoutPrivileges<T>(work: () => Promise<T>): Promise<T> {
  if (process.getuid?.() !== 0) return work();
  process.seteuid!(65_534);
  try {
    return await work();
  } finally {
    process.seteuid!(0);
  }
}

test('an unreadable folder, an unreadable stem: refused or named', async () => {
  const folder = await folderWith({ ...GOOD, 'Keys.wav': KICK });
  await chmod(join(folder, '..'), 0o755);
  await chmod(join(folder, 'Keys.wav'), 0);
  const { exitCode, out } = await withoutPrivileges(() => keelson('inspect', folder, '--json'));
  assert.equal(exitCode, 0);
  const keys = (JSON.parse(out) as Inspected).song.stems.find(({ file }) => file === 'Keys.wav')!;
  assert.match(keys.faults[0]!.sentence, /no permission/);
  await chmod(folder, 0);
  try {
    assertRefusal(await withoutPrivileges(() => keelson('inspect', folder)), /no permission/);
  } finally {
    await chmod(folder, 0o755);
  }
});

test('a write-protected folder: inspected, and a print is refused with nothing left', async () => {
  const folder = await folderWith(GOOD);
  await chmod(join(folder, '..'), 0o755);
  await chmod(folder, 0o555);
  try {
    const before = await everyFile(folder);
    const words = ['treat', folder, '--set', 'bass.trim.gain_dB=-1', '--print'];
    await withoutPrivileges(async () => {
      assert.equal((await keelson('inspect', folder)).exitCode, 0);
      assertRefusal(await keelson(...words), /no permission|write-protected/);
    });
    assert.deepEqual(await everyFile(folder), before);
  } finally {
    await chmod(folder, 0o755);
  }
});

const SESSION = 'keelson.json';
const sessions: readonly (readonly [what: string, text: string | Uint8Array, said: RegExp])[] = [
  ['broken', '{ "format": "keelson-session", "version": 1, ', /not valid JSON/],
  ['empty', '', /not valid JSON/],
  ['of another program', '{"format": "something", "version": 1}', /not a session/],
  ['newer', '{"format": "keelson-session", "version": 99}', /newer version/],
  ['missing its parts', '{"format": "keelson-session", "version": 1}', /stems/],
  ['of bytes that are no text', Uint8Array.from([0xff, 0xfe, 0, 1]), /not valid JSON/],
];

for (const [what, text, said] of sessions) {
  test(`a session file that is ${what}: refused by every command and left as it is`, async () => {
    for (const command of ['inspect', 'treat', 'print', 'proof'])
      await refused({ ...GOOD, [SESSION]: text }, said, [], command);
  });
}

test('a session that speaks of a stem which is gone: it goes on without it, and says so', async () => {
  const folder = await folderWith({ ...GOOD, 'Bass Amp.wav': stemBytes(noise(3), { depth: '16' }) });
  const words = ['--role', 'bass=Bass Amp.wav', '--set', 'bass["Bass Amp.wav"].align.delay_ms=1', '--json'];
  assert.equal((await keelson('treat', folder, ...words)).exitCode, 0);
  await rm(join(folder, 'Bass Amp.wav'));
  const { exitCode, out, err } = await keelson('treat', folder, '--json');
  assert.deepEqual([exitCode, err], [0, '']);
  assert.match((JSON.parse(out) as TreatReport).remarks.join(), /Bass Amp\.wav.*no such stem now/);
});

const nonsense: readonly (readonly [words: readonly string[], said: RegExp])[] = [
  [['--accept', 'wide-bass'], /no finding of that name/],
  [['--role', 'kick=Snare.wav'], /No file of the song has this name/],
  [['--only', 'Zebra*'], /No file of the folder/],
  [['--wish', 'clearance.nothing=>= 3'], /clearance.nothing/],
  [['--wish', 'headroom.left_dB=>= 3'], /No stage can be asked/],
  [['--set', 'bass.make-room.cut_dB=900'], /takes 0/],
  [['--set', 'bass.make-room.cut_dB=loud'], /loud/],
  [['--set', 'bass.make-room.nothing=3'], /setting that make-room does not have/],
  [['--set', 'bass["Nowhere.wav"].align.delay_ms=1'], /Nowhere\.wav/],
];

for (const [words, said] of nonsense) {
  test(`treat ${words.join(' ')}: refused, nothing remembered`, () => refused(GOOD, said, words, 'treat'));
}

test('a proof of nothing, and of a print that is gone', async () => {
  await refused(GOOD, /Nothing has been printed/, [], 'proof');
  const folder = await folderWith(GOOD);
  await keelson('treat', folder, '--set', 'bass.trim.gain_dB=-1', '--print');
  await rm(join(folder, 'Keelson prints/v1/Bass.wav'));
  assertRefusal(await keelson('proof', folder), /not there any more/);
});

test('a print that was changed since is kept, and the next one is a version of its own', async () => {
  const folder = await folderWith(GOOD);
  const words = ['treat', folder, '--set', 'bass.trim.gain_dB=-1', '--print'];
  await keelson(...words);
  await writeFile(join(folder, 'Keelson prints/v1/Bass.wav'), 'mine');
  assert.equal((await keelson(...words)).exitCode, 0);
  assert.deepEqual(await readdir(join(folder, 'Keelson prints')), ['v1', 'v2']);
  assert.equal(Buffer.from(await readPrint(folder, 'v1')).toString(), 'mine');
});

function readPrint(folder: string, version: string): Promise<Uint8Array> {
  return readFile(join(folder, 'Keelson prints', version, 'Bass.wav'));
}
