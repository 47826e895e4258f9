import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { conformedStem, openSong } from '../core/job/open-song.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import type { TreatedRole } from '../core/treatment/treatment.js';
import { PlainError } from '../core/units/plain-error.js';
import { compressedDecoders } from '../decoders/compressed-decoders.js';
import type { SourceFile, SongSource } from '../protocol/song-source.js';
import { REST_BED } from '../protocol/sound-request.js';
import { bextContent, wavBytes, words16 } from '../tests/sound-bytes/wav-bytes.js';
import { SeededRandom } from '../core/units/seeded-random.js';
import { DroppedFolder } from './dropped-folder.js';
import { fingerprint } from './fingerprint.js';
import { SoundDesk } from './sound-desk.js';
import { soundingSong } from './sounding-song.js';

const samples = join(dirname(createRequire(import.meta.url).resolve('supersonic-scsynth-samples')), 'samples');

/** Noise, so that every sample tells where it stands. */
function wav(name: string, { seed = 1, frames = 9000, channels = 1, sampleRate_Hz = 48_000, at = 0 } = {}): SourceFile {
  const random = new SeededRandom(seed);
  const words = words16(Array.from({ length: frames * channels }, () => Math.round(3000 * random.normal())));
  const bext = { id: 'bext', content: bextContent(BigInt(at)) };
  return {
    name,
    file: new File([wavBytes({ channels, sampleRate_Hz }, words, [bext]) as Uint8Array<ArrayBuffer>], name),
  };
}

async function flac(name: string, of: string): Promise<SourceFile> {
  return { name, file: new File([new Uint8Array(await readFile(join(samples, of)))], name) };
}

/** The song as the measuring thread holds it, and the desk that plays it from the same files. */
async function bothOf(files: readonly SourceFile[], monoStems_dB: number) {
  const source: SongSource = { kind: 'files', name: 'Ballast', files };
  const folder = new DroppedFolder('Ballast', files);
  const song = await openSong({ folder, decoders: compressedDecoders, fingerprint }, { monoStems_dB });
  const desk = new SoundDesk();
  const named = await desk.open({ source, roles: [], monoStems_dB });
  return { song, desk, named, measured: soundingSong(song) };
}

type Both = Awaited<ReturnType<typeof bothOf>>;

/** Odd chunks over the song and past its end. */
function chunksOf(frameCount: number): [from: number, to: number][] {
  const edges = [0, 128, 1000, 4097, 6400, frameCount - 1, frameCount + 300];
  return edges.slice(1).map((to, i) => [edges[i]!, to]);
}

async function assertEqualFrames({ song, desk }: Both, files: Record<TreatedRole, readonly string[]>): Promise<void> {
  const wholes: Record<TreatedRole, StereoSignal[]> = { kick: [], bass: [], rest: [] };
  for (const role of ['kick', 'bass', 'rest'] as const) {
    for (const name of files[role]) {
      const stem = song.files.find(({ stem: { file } }) => file === name);
      wholes[role].push(name === REST_BED ? song.sound.rest! : await conformedStem(stem!.open, stem!.start, song));
    }
  }
  for (const [from, to] of chunksOf(song.frameCount)) {
    const answer = await desk.sound({ from, to, files });
    for (const role of ['kick', 'bass', 'rest'] as const) {
      answer[role].forEach((block, i) => {
        const { left, right } = wholes[role][i]!;
        const padded = (channel: StereoSignal['left']) =>
          Array.from({ length: to - from }, (_, n) => channel[from + n] ?? 0);
        assert.deepEqual(Array.from(block.left), padded(left), `${files[role][i]} ${from}`);
        assert.deepEqual(Array.from(block.right), padded(right), `${files[role][i]} ${from}`);
      });
    }
  }
}

const DAY = 48_000 * 3600;

test('every chunk equals the conformed song: other rates, starts, the gain of mono stems, a copy set aside', async () => {
  const both = await bothOf(
    [
      wav('Kick.wav', { seed: 1, at: DAY + 700 }),
      wav('Bass.wav', { seed: 2, channels: 2, frames: 8000, sampleRate_Hz: 44_100, at: 44_100 * 3600 }),
      wav('Keys.wav', { seed: 3, channels: 2, at: DAY + 100 }),
      wav('Guitar.wav', { seed: 4, at: DAY + 1313 }),
      wav('Guitar again.wav', { seed: 4, at: DAY + 1313 }),
      wav('Vocal.wav', { seed: 5, channels: 2, frames: 5000, at: DAY }),
    ],
    -3,
  );
  const { desk, measured, named } = both;
  assert.deepEqual(named.files.kick, measured.files.kick);
  assert.equal(named.frameCount, measured.frameCount);
  assert.deepEqual(
    measured.bed.map(({ file, sign }) => [file, sign]),
    [
      ['Guitar again.wav', 1],
      ['Guitar.wav', 1],
      ['Keys.wav', 1],
      ['Vocal.wav', 1],
      ['Guitar again.wav', -1],
    ],
  );
  await desk.correct(measured);
  await assertEqualFrames(both, { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [REST_BED, 'Guitar.wav', 'Keys.wav'] });
  const { kick } = await desk.sound({ from: 900, to: 1000, files: { kick: ['Kick.wav'], bass: [], rest: [] } });
  assert.equal(kick[0]!.left, kick[0]!.right);
});

test('before measuring, what the names say is heard: the copy too', async () => {
  const { desk, named } = await bothOf(
    [wav('Kick.wav'), wav('Pad.wav', { seed: 2 }), wav('Pad b.wav', { seed: 2 })],
    0,
  );
  assert.deepEqual(
    named.bed.map(({ file, sign }) => [file, sign]),
    [
      ['Pad b.wav', 1],
      ['Pad.wav', 1],
    ],
  );
  const { rest } = await desk.sound({ from: 0, to: 9000, files: { kick: [], bass: [], rest: [REST_BED, 'Pad.wav'] } });
  const [bed, pad] = [rest[0]!.left, rest[1]!.left];
  assert.ok(bed.every((sample, n) => sample === 2 * pad[n]!) && pad.some((sample) => sample !== 0));
});

test('where measuring corrects nothing, the sounding song is the same text: what plays goes on', async () => {
  const { named, measured } = await bothOf(
    [wav('Kick.wav'), wav('Pad.wav', { seed: 2 }), wav('Mix.wav', { seed: 3 })],
    0,
  );
  assert.equal(JSON.stringify(named), JSON.stringify(measured));
});

test('compressed stems are decoded once and can be heard from anywhere', async () => {
  const both = await bothOf(
    [
      await flac('Bass.flac', 'bass_hit_c.flac'),
      await flac('Hat.flac', 'hat_raw.flac'),
      await flac('Reference.flac', 'perc_swash.flac'),
      wav('Kick.wav', { sampleRate_Hz: 44_100 }),
    ],
    0,
  );
  await assertEqualFrames(both, { kick: ['Kick.wav'], bass: ['Bass.flac'], rest: [REST_BED] });
  await both.desk.sound({ from: 20_000, to: 20_010, files: { kick: [], bass: ['Bass.flac'], rest: [] } });
  await assertEqualFrames(both, { kick: [], bass: ['Bass.flac'], rest: ['Hat.flac'] });
});

test('a record beside the song is heard from its beginning, at the rate of the song', async () => {
  const { desk, named } = await bothOf(
    [
      wav('Kick.wav', { at: DAY }),
      wav('Bass.wav', { seed: 2, at: DAY + 500 }),
      wav('Reference.wav', { seed: 9, frames: 4410, sampleRate_Hz: 44_100, at: DAY + 9 }),
    ],
    -6,
  );
  assert.deepEqual(named.besides, [{ file: 'Reference.wav', role: 'reference', frameCount: 4800 }]);
  const { rest } = await desk.sound({ from: 0, to: 5000, files: { kick: [], bass: [], rest: ['Reference.wav'] } });
  const energy = (from: number, to: number) =>
    Array.from(rest[0]!.left.slice(from, to)).reduce((sum, x) => sum + x * x, 0);
  const rms_FS = Math.sqrt(energy(0, 4800) / 4800);
  // white noise as it was written, less the twentieth of its band that conversion takes: a mono stem's -6 dB would halve it
  assert.ok(Math.abs(rms_FS / (3000 / 32768) - 0.97) < 0.05, `${rms_FS}`);
  assert.equal(energy(4800, 5000), 0);
});

test('what is not at hand is named', async () => {
  const { desk } = await bothOf([wav('Kick.wav')], 0);
  await assert.rejects(desk.sound({ from: 0, to: 9, files: { kick: ['No.wav'], bass: [], rest: [] } }), PlainError);
  await assert.rejects(new SoundDesk().sound({ from: 0, to: 9, files: { kick: [], bass: [], rest: [] } }), /not open/);
});
