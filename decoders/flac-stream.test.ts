import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { ByteArraySource } from '../core/audio-file/byte-array-source.js';
import type { AudioReader } from '../core/audio-file/audio-reader.js';
import { openAudioFile } from '../core/audio-file/open-audio-file.js';
import { PlainError } from '../core/units/plain-error.js';
import { compressedDecoders } from './compressed-decoders.js';

const samples = join(dirname(createRequire(import.meta.url).resolve('supersonic-scsynth-samples')), 'samples');

async function bytesOf(name: string): Promise<Uint8Array> {
  return new Uint8Array(await readFile(join(samples, name)));
}

function open(bytes: Uint8Array, name = 'bass.flac'): Promise<AudioReader> {
  return openAudioFile(name, new ByteArraySource(bytes), compressedDecoders);
}

/** MD5 of interleaved little-endian integers, as STREAMINFO holds it (RFC 9639, section 8.2). */
async function md5Of(reader: AudioReader, blockFrames: number): Promise<string> {
  const { channels, frameCount, validBits } = reader.facts;
  const size = Math.ceil(validBits / 8);
  const hash = createHash('md5');
  for (let from = 0; from < frameCount; from += blockFrames) {
    const block = await reader.readFrames(from, blockFrames);
    const bytes = Buffer.alloc(block[0]!.length * channels * size);
    for (let frame = 0, at = 0; frame < block[0]!.length; frame++) {
      for (const channel of block) at = bytes.writeIntLE(channel[frame]! * 2 ** (validBits - 1), at, size);
    }
    hash.update(bytes);
  }
  return hash.digest('hex');
}

/** CC0 one-shots of each kind; the MD5s stand in the files, written there by their encoder. */
const files: readonly [name: string, bits: number, channels: number, rate_Hz: number, frames: number, md5: string][] = [
  ['bass_hit_c.flac', 16, 2, 44_100, 26_868, 'f89255989b519e373ff6a11e6f573cd5'],
  ['hat_raw.flac', 16, 1, 96_000, 19_891, '2261b89d4e965011e2e14d0d9ff33595'],
  ['misc_burp.flac', 24, 1, 44_100, 34_984, 'a4ee6d0f2791a00723108f93e8f1d181'],
  ['perc_swash.flac', 24, 2, 44_100, 14_090, 'c61cd560c4958d88c5b86e96fe10f712'],
];

for (const [name, bits, channels, rate_Hz, frames, md5] of files) {
  test(`${name}: ${bits} bits, ${channels} channel(s), ${rate_Hz} Hz: integers exact by the MD5 of the file`, async () => {
    const reader = await open(await bytesOf(name), name);
    const { facts } = reader;
    assert.deepEqual(
      [facts.container, facts.validBits, facts.channels, facts.sampleRate_Hz, facts.frameCount, facts.samplesMd5],
      ['flac', bits, channels, rate_Hz, frames, md5],
    );
    assert.equal(facts.bitDepth, String(bits));
    assert.equal(await md5Of(reader, 5000), md5);
    assert.equal(await md5Of(reader, 12_345), md5, 'from the beginning again, in other blocks');
  });
}

test('any part of the stream can be asked for, backwards too', async () => {
  const reader = await open(await bytesOf('bass_hit_c.flac'));
  const whole = await reader.readFrames(0, 26_868);
  for (const [from, count] of [
    [20_000, 100],
    [10, 5000],
    [26_800, 500],
    [0, 0],
    [4095, 2],
  ] as const) {
    const part = await reader.readFrames(from, count);
    part.forEach((channel, index) => assert.deepEqual(channel, whole[index]!.slice(from, from + count)));
  }
});

test('a place far away is sought by the frame headers, and the samples are the same', async () => {
  const bytes = await bytesOf('arovane_beat_b.flac');
  const whole = await (await open(bytes)).readFrames(0, Infinity);
  const source = new ByteArraySource(bytes);
  let firstRead = Infinity;
  const watched = {
    size: source.size,
    read: (offset: number, length: number) => {
      firstRead = Math.min(firstRead, offset);
      return source.read(offset, length);
    },
  };
  const reader = await openAudioFile('beat.flac', watched, compressedDecoders);
  const { frameCount } = reader.facts;
  for (const place of [0.9, 0.2, 0.999, 0.6, 0.95, 0]) {
    firstRead = Infinity;
    const from = Math.floor(place * frameCount);
    const part = await reader.readFrames(from, 2000);
    part.forEach((channel, index) => assert.deepEqual(channel, whole[index]!.slice(from, from + 2000)));
    assert.equal(firstRead > 100_000, place > 0, `read from byte ${firstRead} for ${place}`);
  }
});

test('a FLAC without its sample count is counted', async () => {
  const bytes = await bytesOf('bass_hit_c.flac');
  bytes.set([bytes[21]! & 0xf0, 0, 0, 0, 0], 21);
  assert.equal((await open(bytes)).facts.frameCount, 26_868);
});

test('a FLAC named .wav is read and the name is a fault', async () => {
  const reader = await open(await bytesOf('bass_hit_c.flac'), 'bass.wav');
  assert.deepEqual(
    reader.facts.faults.map(({ id }) => id),
    ['wrong-extension'],
  );
  assert.equal((await reader.readFrames(0, 10))[0]!.length, 10);
});

test('a FLAC that is cut short gives a plain error at the place that is missing', async () => {
  const bytes = await bytesOf('bass_hit_c.flac');
  for (const length of [5, 41, 42, 100, bytes.length >> 1, bytes.length - 100]) {
    const reader = await open(bytes.slice(0, length)).catch((error: unknown) => error);
    if (reader instanceof PlainError) continue;
    assert.ok(!(reader instanceof Error), String(reader));
    await assert.rejects((reader as AudioReader).readFrames(0, 26_868), PlainError);
  }
});

test('damage never gives anything but sound or a plain error', async () => {
  const whole = await bytesOf('bass_hit_c.flac');
  for (const at of [4, 8, 12, 18, 20, 50, 3000, 9000, 15_000]) {
    const bytes = whole.slice();
    for (let i = 0; i < 16; i++) bytes[at + i]! ^= 0x5a;
    const outcome = await open(bytes)
      .then((reader) => reader.readFrames(0, Math.min(reader.facts.frameCount, 30_000)))
      .catch((error: unknown) => error);
    assert.ok(Array.isArray(outcome) || outcome instanceof PlainError, `${at}: ${String(outcome)}`);
  }
});

test('a last frame of a few bytes, as silence ends a stem, is decoded too', async () => {
  const frames = silentFlac(35);
  const reader = await open(frames);
  const [left] = await reader.readFrames(0, reader.facts.frameCount);
  assert.equal(left!.length, 35 * 4096);
  assert.ok(left!.every((value) => value === 0));
  await assert.rejects(async () => {
    const cut = await open(frames.slice(0, -5));
    await cut.readFrames(0, cut.facts.frameCount);
  }, PlainError);
});

/** Mono, 16 bits, 44.1 kHz, blocks of 4096 samples, every subframe constant 0 (RFC 9639, sections 8.2, 9.1 and 9.2.2). */
function silentFlac(frameCount: number): Uint8Array {
  const total = frameCount * 4096;
  const info = [0x10, 0x00, 0x10, 0x00, 0, 0, 0, 0, 0, 0, 0x0a, 0xc4, 0x40, 0xf0];
  info.push((total >>> 24) & 255, (total >>> 16) & 255, (total >>> 8) & 255, total & 255, ...Array<number>(16).fill(0));
  const bytes = [...Buffer.from('fLaC'), 0x80, 0, 0, info.length, ...info];
  for (let n = 0; n < frameCount; n++) {
    const header = [0xff, 0xf8, 0xc9, 0x08, n];
    const frame = [...header, crc(header, 8, 0x07), 0x00, 0x00, 0x00];
    const check = crc(frame, 16, 0x8005);
    bytes.push(...frame, check >> 8, check & 255);
  }
  return Uint8Array.from(bytes);
}

function crc(bytes: readonly number[], bits: 8 | 16, polynomial: number): number {
  const top = 1 << (bits - 1);
  const mask = (1 << bits) - 1;
  return bytes.reduce((sum, byte) => {
    let rest = sum ^ (byte << (bits - 8));
    for (let i = 0; i < 8; i++) rest = (rest & top) !== 0 ? ((rest << 1) ^ polynomial) & mask : (rest << 1) & mask;
    return rest;
  }, 0);
}
