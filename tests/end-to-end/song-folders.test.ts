import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { before, test } from 'node:test';
import { resampled } from '../../core/dsp/resampler.js';
import { monoSignal, sumOf, type StereoSignal } from '../../core/signal/stereo-signal.js';
import { soulSong } from '../songs/clean-songs.js';
import { injectWideLows } from '../songs/injected-faults.js';
import { oneShot } from '../songs/one-shots.js';
import { repositoryRoot } from '../repository-root.js';
import { keelson } from './keelson.js';
import { printedWav } from './printed-wav.js';
import { smallSong } from '../songs/small-song.js';
import { everyFile, folderWith, sourcesOf, stemBytes } from './song-folder.js';
import { framesBehind, readReport, type TreatReport } from './whole-job.js';

const LOOP = 'loop_amen';
const ROUGH_MIX_dB = -2;

function aiffBytes({ left, sampleRate_Hz }: StereoSignal): Uint8Array {
  const chunk = (id: string, content: Buffer): Buffer => {
    const head = Buffer.alloc(8);
    head.write(id, 0, 'latin1');
    head.writeUInt32BE(content.length, 4);
    return Buffer.concat([head, content]);
  };
  const common = Buffer.alloc(18);
  common.writeUInt16BE(1, 0);
  common.writeUInt32BE(left.length, 2);
  common.writeUInt16BE(24, 6);
  // 80-bit extended: 2^15 * 1.x for rates of 32768 to 65535 Hz
  common.writeUInt16BE(0x400e, 8);
  common.writeUInt32BE(sampleRate_Hz * 65_536, 10);
  const data = Buffer.alloc(8 + 3 * left.length + (left.length % 2));
  left.forEach((value: number, n: number) => data.writeIntBE(Math.round(value * 8_388_607), 8 + 3 * n, 3));
  return chunk('FORM', Buffer.concat([Buffer.from('AIFF'), chunk('COMM', common), chunk('SSND', data)]));
}

function placed({ left, right, sampleRate_Hz }: StereoSignal, frameCount: number, gain = 1): StereoSignal {
  const channel = (x: ArrayLike<number>) => Float64Array.from({ length: frameCount }, (_, n) => gain * (x[n] ?? 0));
  return { left: channel(left), right: channel(right), sampleRate_Hz };
}

let folder = '';
let sources: Record<string, string> = {};
let report: TreatReport;
/** Direct and amp track as they were before one was turned to 44.1 kHz. */
let bassMiddle = new Float64Array();

before(async () => {
  const { sound } = injectWideLows(soulSong(3), 0.8);
  const [kickIn, kickOut] = sound.tracks.kick.map(({ signal }) => signal);
  const [direct, amp] = sound.tracks.bass.map(({ signal }) => signal);
  const [drums, keys] = sound.tracks.rest.map(({ signal }) => signal);
  bassMiddle = Float64Array.from(sound.bass!.left, (left, n) => left + sound.bass!.right[n]!);
  const loop = placed(resampled(await oneShot(LOOP), 48_000), sound.frameCount);
  const mix = sumOf([sound.kick!, sound.bass!, sound.rest!, loop])!;
  folder = await folderWith({
    'Kick In.wav': stemBytes(kickIn!),
    'Kick Out.aif': aiffBytes(kickOut!),
    'Bass DI.wav': stemBytes(resampled(direct!, 44_100)),
    'Bass Amp.wav': stemBytes(amp!),
    'Drums.wav': stemBytes(drums!, { depth: '16' }),
    'Keys.wav': stemBytes(keys!, { depth: '32f' }),
    'Keys copy.wav': stemBytes(monoSignal(placed(keys!, sound.frameCount, -0.5).left, 48_000), { depth: '32f' }),
    'Band Bus.wav': stemBytes(sumOf([drums!, keys!])!),
    'Amen loop.flac': await readFile(
      join(repositoryRoot, `node_modules/supersonic-scsynth-samples/samples/${LOOP}.flac`),
    ),
    'Rough mix.wav': stemBytes(placed(mix, sound.frameCount, 10 ** (ROUGH_MIX_dB / 20)), { depth: '32f' }),
    'notes.txt': 'take 4 is the one',
  });
  sources = await sourcesOf(folder);
  const words = ['--accept', 'all', '--set', 'rest["Amen loop.flac"].clean.lowCut=on', '--print', '--json'];
  const { exitCode, out, err } = await keelson('treat', folder, '--role', 'rest=Band Bus.wav', ...words);
  assert.deepEqual([exitCode, err], [0, '']);
  report = readReport(out);
});

function stemOf(file: string) {
  return report.inspect.song.stems.find((stem) => stem.file === file)!;
}

test('WAV, AIFF and FLAC, 44.1 among 48 kHz, mono and stereo, long and short: one song', () => {
  const roles = Object.fromEntries(report.inspect.song.stems.map(({ file, role }) => [file, role]));
  assert.deepEqual(roles, {
    'Amen loop.flac': 'rest',
    'Band Bus.wav': 'aside',
    'Bass Amp.wav': 'bass',
    'Bass DI.wav': 'bass',
    'Drums.wav': 'rest',
    'Keys copy.wav': 'aside',
    'Keys.wav': 'rest',
    'Kick In.wav': 'kick',
    'Kick Out.aif': 'kick',
    'Rough mix.wav': 'mix',
  });
  assert.equal(report.inspect.song.sampleRate_Hz, 48_000);
  const remarks = report.inspect.song.remarks.join('\n');
  assert.match(remarks, /Bass DI\.wav: 44\.1 kHz among 48 kHz/);
  assert.match(remarks, /Left alone, no stems: notes\.txt/);
});

test('a bus beside its parts and a copy of a stem count once, and are told', () => {
  assert.deepEqual(
    stemOf('Band Bus.wav').faults.map(({ id }) => id),
    ['bus'],
  );
  assert.match(stemOf('Band Bus.wav').because, /Drums\.wav and Keys\.wav|Keys\.wav and Drums\.wav/);
  assert.deepEqual(
    stemOf('Keys copy.wav').faults.map(({ id }) => id),
    ['duplicate'],
  );
  assert.match(stemOf('Keys copy.wav').because, /Keys\.wav, at -6\.02 dB, polarity turned/);
});

test('the rough mix is a witness: the stems sum to it, but for its gain', () => {
  const said = /The stems, −2\.0 dB, sum to Rough mix\.wav with −(\d+) dB left over/.exec(
    report.inspect.song.remarks.join('\n'),
  );
  assert.ok(said !== null, report.inspect.song.remarks.join('\n'));
  assert.ok(Number(said[1]) >= 60, said[0]);
});

test('prints: the bass at the song’s rate on its sample, FLAC as WAV, untouched files as they came, nothing else', async () => {
  const standing = await everyFile(folder);
  const prints = Object.keys(standing).filter((path) => path.startsWith('Keelson prints/v1/'));
  assert.deepEqual(
    prints.map((path) => path.slice('Keelson prints/v1/'.length)).filter((path) => !path.includes('/')),
    ['Amen loop.wav', 'Bass.wav', 'Drums.wav', 'Keys.wav', 'Kick In.wav', 'Kick Out.aif'],
  );
  for (const file of ['Drums.wav', 'Keys.wav', 'Kick In.wav', 'Kick Out.aif']) {
    assert.equal(standing[`Keelson prints/v1/${file}`], standing[file]);
  }
  const bass = await printedWav(join(folder, 'Keelson prints/v1/Bass.wav'));
  const amp = await printedWav(join(folder, 'Bass Amp.wav'));
  const direct = await printedWav(join(folder, 'Bass DI.wav'));
  const longest = Math.max(amp.frameCount, Math.ceil((direct.frameCount * 48_000) / 44_100));
  assert.deepEqual([bass.sampleRate_Hz, bass.frameCount, bass.bits], [48_000, longest, 24]);
  const middle = bass.samples[0]!.map((left, n) => left + bass.samples[1]![n]!);
  assert.equal(framesBehind(middle, bassMiddle, 100), 0);
  const loop = await printedWav(join(folder, 'Keelson prints/v1/Amen loop.wav'));
  const source = await oneShot(LOOP);
  assert.equal(loop.frameCount, Math.ceil((source.left.length * 48_000) / 44_100));
  assert.deepEqual([loop.sampleRate_Hz, loop.channels], [48_000, 2]);
  assert.deepEqual(await sourcesOf(folder), sources);
  assert.deepEqual(report.print!.harm, []);
});

const small = smallSong();

test('time references in all stems place them, and the print carries its own', async () => {
  const hour = 3600 * 48_000;
  const late = { ...small.bass, left: small.bass.left.slice(9600), right: small.bass.left.slice(9600) };
  const song = await folderWith({
    'Kick.wav': stemBytes(small.kick, { timeReference_samples: hour }),
    'Bass.wav': stemBytes(monoSignal(late.left, 48_000), { timeReference_samples: hour + 9600 }),
  });
  const { exitCode, out, err } = await keelson(
    ...['treat', song, '--set', 'bass.trim.gain_dB=-1', '--print', '--json'],
  );
  assert.deepEqual([exitCode, err], [0, '']);
  const { inspect, print } = readReport(out);
  assert.deepEqual(
    inspect.song.stems.map(({ file, start_samples }) => [file, start_samples]),
    [
      ['Bass.wav', 9600],
      ['Kick.wav', 0],
    ],
  );
  const { files } = print!;
  assert.equal(files.find(({ path }) => path.endsWith('Bass.wav'))!.start, 9600);
  const bass = await printedWav(join(song, 'Keelson prints/v1/Bass.wav'));
  assert.deepEqual([bass.timeReference_samples, bass.frameCount], [hour + 9600, late.left.length]);
  assert.equal(framesBehind(bass.samples[0]!, Float64Array.from(late.left), 100), 0);
});

test('time references in some stems only: all begin at 0, and it is said', async () => {
  const song = await folderWith({
    'Kick.wav': stemBytes(small.kick, { timeReference_samples: 48_000 }),
    'Bass.wav': stemBytes(small.bass),
  });
  const { out } = await keelson('inspect', song, '--json');
  const { song: read } = JSON.parse(out) as TreatReport['inspect'];
  assert.deepEqual(
    read.stems.map(({ start_samples }) => start_samples),
    [0, 0],
  );
  assert.match(read.remarks.join(), /every stem is taken to begin at 0/);
});

test('a role that is not sure is asked for with the option that answers it; the answer is remembered', async () => {
  const silence = monoSignal(new Float64Array(96_000), 48_000);
  const song = await folderWith({
    'Audio 1.wav': stemBytes(small.kick),
    'Bass.wav': stemBytes(small.bass),
    'Audio 2.wav': stemBytes(silence),
  });
  const asked = await keelson('inspect', song);
  assert.equal(asked.exitCode, 2);
  assert.match(asked.err, /--role \w+=['"]Audio 2/);
  const said = ['--role', 'kick=Audio 1.wav', '--role', 'rest=Audio 2.wav'];
  assert.equal((await keelson('inspect', song, ...said)).exitCode, 0);
  const { exitCode, out } = await keelson('inspect', song, '--json');
  assert.equal(exitCode, 0);
  const roles = (JSON.parse(out) as TreatReport['inspect']).song.stems.map(({ role }) => role);
  assert.deepEqual(roles, ['kick', 'rest', 'bass']);
});
