import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { before, test } from 'node:test';
import type { ByteSink } from '../../core/audio-file/byte-source.js';
import { printAndProve } from '../../core/job/print-and-prove.js';
import type { JobHost } from '../../core/job/job-host.js';
import type { SongFolder } from '../../core/job/ports.js';
import { monoSignal } from '../../core/signal/stereo-signal.js';
import { treatSong } from '../../core/job/treat-song.js';
import { PlainError } from '../../core/units/plain-error.js';
import { openDiskHost } from '../../node/disk-host.js';
import { plainDiskError } from '../../node/plain-disk-error.js';
import { keelson, KEELSON } from './keelson.js';
import { smallSong } from '../songs/small-song.js';
import { everyFile, folderWith, sourcesOf, stemBytes } from './song-folder.js';

const { kick, bass } = smallSong();
const quiet = monoSignal(
  kick.left.map((x, n) => 0.1 * x * bass.left[n]!),
  48_000,
);
const FILES = { 'Kick.wav': stemBytes(kick), 'Bass.wav': stemBytes(bass), 'Keys.wav': stemBytes(quiet) };
const TRIM = { said: {}, wishes: [], settings: [{ address: 'bass.trim.gain_dB', text: '-1' }] };
const CHOICES = { depth: null, gain_dB: 0 };

/** The folder with its sinks changed. */
function withSinks(host: JobHost, change: (name: string, sink: ByteSink) => ByteSink): JobHost {
  const { folder } = host;
  const changed: SongFolder = {
    name: folder.name,
    list: () => folder.list(),
    open: (name) => folder.open(name),
    sizeOf: (name) => folder.sizeOf(name),
    create: async (name, replace) => change(name, await folder.create(name, replace)),
  };
  return { ...host, folder: changed };
}

/** A disk with room for so many bytes. */
function smallDisk(host: JobHost, room: number): JobHost {
  let left = room;
  return withSinks(host, (name, sink) => ({
    write: async (bytes) => {
      left -= bytes.length;
      if (left >= 0) return sink.write(bytes);
      await sink.abandon();
      throw plainDiskError(name, Object.assign(new Error('no space left'), { code: 'ENOSPC' }));
    },
    rewrite: (offset, bytes) => sink.rewrite(offset, bytes),
    finish: () => sink.finish(),
    abandon: () => sink.abandon(),
  }));
}

let host: JobHost;
let folder = '';

before(async () => {
  folder = await folderWith(FILES);
  host = await openDiskHost(folder, () => undefined);
});

for (const [what, room] of [
  ['in the middle of the first file', 200_000],
  ['in the middle of the second', 800_000],
  ['in the middle of the third', 1_300_000],
] as const) {
  test(`a disk that is full ${what}: said, no print, no part, no folder, sources as they were`, async () => {
    const treated = await treatSong(host, {}, TRIM);
    const before = [await everyFile(folder), await sourcesOf(folder)];
    const failure = await printAndProve(smallDisk(host, room), treated, CHOICES).then(
      () => null,
      (error: unknown) => error,
    );
    assert.ok(failure instanceof PlainError);
    assert.match(failure.reason, /full/);
    assert.deepEqual([await everyFile(folder), await sourcesOf(folder)], before);
    assert.ok(!(await readdir(folder)).includes('Keelson prints'));
  });
}

test('a disk that is full at the session: the session of before stands whole', async () => {
  await treatSong(host, {}, TRIM);
  const before = await everyFile(folder);
  const other = { ...TRIM, settings: [{ address: 'bass.trim.gain_dB', text: '-2' }] };
  await assert.rejects(treatSong(smallDisk(host, 10), {}, other), PlainError);
  assert.deepEqual(await everyFile(folder), before);
});

test('a stem that goes away between treating and printing: named, no print', async () => {
  const ours = await folderWith(FILES);
  const own = await openDiskHost(ours, () => undefined);
  const treated = await treatSong(own, {}, TRIM);
  await rm(join(ours, 'Kick.wav'));
  const failure = await printAndProve(own, treated, CHOICES).then(
    () => null,
    (error: unknown) => error,
  );
  assert.ok(failure instanceof PlainError);
  assert.equal(failure.subject, 'Kick.wav');
  assert.deepEqual(await readdir(ours), ['Bass.wav', 'Keys.wav', 'keelson.json']);
});

test('killed in the middle of a print: nothing half under a final name, and the next run prints the whole', async () => {
  const ours = await folderWith(FILES);
  const sources = await sourcesOf(ours);
  await killedAtFirstPart(ours);
  const left = Object.keys(await everyFile(ours)).filter((path) => path.startsWith('Keelson prints/'));
  for (const path of left) assert.match(path, /\/\.[^/]+\.keelson-part$/);
  assert.deepEqual(await sourcesOf(ours), sources);
  const again = await keelson('print', ours);
  assert.deepEqual([again.exitCode, again.err], [0, '']);
  const standing = Object.keys(await everyFile(ours)).filter((path) => path.startsWith('Keelson prints/'));
  assert.deepEqual(standing, [
    'Keelson prints/v1/Bass.wav',
    'Keelson prints/v1/Keys.wav',
    'Keelson prints/v1/Kick.wav',
  ]);
});

/** Runs treat --print in a process of its own, whose disk stops at its first print, and kills it there. */
async function killedAtFirstPart(song: string): Promise<void> {
  const words = [KEELSON, 'treat', song, '--set', 'bass.trim.gain_dB=-1', '--print'];
  const child = spawn(process.execPath, ['--import', STOPPING_DISK, ...words], { stdio: ['ignore', 'pipe', 'ignore'] });
  await new Promise<void>((resolve, reject) => {
    child.stdout.on('data', (text: Buffer) => String(text).includes('part stands') && child.kill('SIGKILL'));
    child.on('exit', (code, signal) => (signal === 'SIGKILL' ? resolve() : reject(new Error(`ended with ${code}`))));
  });
}

/** Writes the first bytes of a print, says so, and waits for ever. */
const STOPPING_DISK = `data:text/javascript,${encodeURIComponent(`
  import { promises } from 'node:fs';
  import { syncBuiltinESMExports } from 'node:module';
  const { open } = promises;
  promises.open = async (path, ...others) => {
    const handle = await open(path, ...others);
    if (String(path).endsWith('.wav.keelson-part')) {
      const { write } = handle;
      handle.write = async (...bytes) => {
        await write.apply(handle, bytes);
        process.stdout.write('part stands\\n');
        setInterval(() => undefined, 1000);
        return new Promise(() => undefined);
      };
    }
    return handle;
  };
  syncBuiltinESMExports();
`)}`;
