import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { PlainError } from '../units/plain-error.js';
import type { AudioReader } from './audio-reader.js';
import { ByteArraySource } from './byte-array-source.js';
import type { CompressedDecoders } from './compressed-decoders.js';
import { openAudioFile } from './open-audio-file.js';

const noDecoders: CompressedDecoders = { openFlac: () => Promise.reject(new Error('not in this test')) };

function open(bytes: Uint8Array): Promise<AudioReader> {
  return openAudioFile('kick.aif', new ByteArraySource(bytes), noDecoders);
}

function chunk(id: string, content: Uint8Array, declared = content.length): Buffer {
  const header = Buffer.alloc(8);
  header.write(id, 0, 'latin1');
  header.writeUInt32BE(declared, 4);
  return Buffer.concat([header, content, Buffer.alloc(content.length % 2)]);
}

// 80-bit rates: 48 kHz = 400E BB80 0000..., 44.1 kHz = 400E AC44 0000..., as written in AIFF files of today
const RATE_48000 = '400ebb80000000000000';
const RATE_44100 = '400eac44000000000000';

interface Common {
  channels?: number;
  frames: number;
  bits: number;
  rate?: string;
  kind?: string;
}

function comm({ channels = 1, frames, bits, rate = RATE_48000, kind }: Common): Buffer {
  const content = Buffer.alloc(18);
  content.writeUInt16BE(channels, 0);
  content.writeUInt32BE(frames, 2);
  content.writeUInt16BE(bits, 6);
  content.write(rate, 8, 'hex');
  return chunk('COMM', kind === undefined ? content : Buffer.concat([content, Buffer.from(`${kind}\0\0`, 'latin1')]));
}

function aiff(common: Common, data: Uint8Array, skipped = 0, others: readonly Buffer[] = []): Uint8Array {
  const sound = Buffer.concat([Buffer.alloc(8 + skipped), data]);
  sound.writeUInt32BE(skipped, 0);
  const body = Buffer.concat([comm(common), ...others, chunk('SSND', sound)]);
  const head = Buffer.from(`FORM\0\0\0\0${common.kind === undefined ? 'AIFF' : 'AIFC'}`, 'latin1');
  head.writeUInt32BE(body.length + 4, 4);
  return Uint8Array.from(Buffer.concat([head, body]));
}

function floats(wide: boolean, values: readonly number[]): Buffer {
  const bytes = Buffer.alloc((wide ? 8 : 4) * values.length);
  values.forEach((value, i) => (wide ? bytes.writeDoubleBE(value, 8 * i) : bytes.writeFloatBE(value, 4 * i)));
  return bytes;
}

const kinds: readonly [kind: string | undefined, bits: number, depth: string, data: Uint8Array, values: number[]][] = [
  [undefined, 8, '8', Uint8Array.of(0x80, 0x7f, 0, 0xff), [-1, 127 / 128, 0, -1 / 128]],
  [undefined, 16, '16', Uint8Array.of(0x80, 0, 0x7f, 0xff, 0, 1), [-1, 32767 / 32768, 1 / 32768]],
  [undefined, 24, '24', Uint8Array.of(0x80, 0, 0, 0x7f, 0xff, 0xff), [-1, 8388607 / 8388608]],
  [undefined, 32, '32', Uint8Array.of(0x80, 0, 0, 0, 0, 0, 0, 1), [-1, 1 / 2147483648]],
  ['NONE', 16, '16', Uint8Array.of(0x40, 0, 0xc0, 0), [0.5, -0.5]],
  ['twos', 16, '16', Uint8Array.of(0x40, 0, 0xc0, 0), [0.5, -0.5]],
  ['sowt', 16, '16', Uint8Array.of(0, 0x40, 1, 0x80), [0.5, -32767 / 32768]],
  ['sowt', 24, '24', Uint8Array.of(0, 0, 0x40, 1, 0, 0x80), [0.5, -8388607 / 8388608]],
  ['raw ', 8, '8', Uint8Array.of(0, 128, 192, 255), [-1, 0, 0.5, 127 / 128]],
  ['fl32', 32, '32f', floats(false, [1.5, -0.25]), [1.5, -0.25]],
  ['FL32', 32, '32f', floats(false, [1.5, -0.25]), [1.5, -0.25]],
  ['fl64', 64, '64f', floats(true, [0.1, -1e-20]), [0.1, -1e-20]],
];

for (const [kind, bits, depth, data, values] of kinds) {
  test(`AIFF ${kind ?? 'plain'} of ${bits} bits is read exactly`, async () => {
    const reader = await open(aiff({ frames: values.length, bits, ...(kind === undefined ? {} : { kind }) }, data));
    assert.equal(reader.facts.container, kind === undefined ? 'aiff' : 'aifc');
    assert.equal(reader.facts.bitDepth, depth);
    assert.deepEqual(reader.facts.faults, []);
    assert.deepEqual([...(await reader.readFrames(0, 99))[0]!], values);
  });
}

test('rate of 80 bits, odd chunks, skipped bytes ahead of the sound, stereo', async () => {
  const common = { channels: 2, frames: 1, bits: 16, rate: RATE_44100 };
  const reader = await open(aiff(common, Uint8Array.of(0x40, 0, 0xc0, 0), 6, [chunk('NAME', Buffer.from('abc'))]));
  assert.equal(reader.facts.sampleRate_Hz, 44_100);
  const [left, right] = await reader.readFrames(0, 1);
  assert.deepEqual([left![0], right![0]], [0.5, -0.5]);
  const place = reader.facts.chunks.find(({ id }) => id === 'NAME');
  assert.deepEqual(place, { id: 'NAME', offset: 12 + 26 + 8, length: 3 });
});

test('frame counts and lengths that disagree are a fault, and the lesser is read', async () => {
  const data = Uint8Array.of(0x40, 0, 0xc0, 0);
  for (const [frames, read] of [
    [5, 2],
    [1, 1],
  ] as const) {
    const reader = await open(aiff({ frames, bits: 16 }, data));
    assert.equal(reader.facts.frameCount, read);
    assert.deepEqual(
      reader.facts.faults.map(({ id }) => id),
      ['declared-length'],
    );
  }
});

const unusable: readonly [what: string, bytes: Uint8Array, reason: RegExp][] = [
  ['compressed', aiff({ frames: 1, bits: 16, kind: 'ima4' }, new Uint8Array(4)), /kind "ima4"/],
  ['rate 0', aiff({ frames: 1, bits: 16, rate: '0'.repeat(20) }, new Uint8Array(2)), /sample rate of 0 Hz/],
  ['absurd rate', aiff({ frames: 1, bits: 16, rate: `401fbb80${'0'.repeat(12)}` }, new Uint8Array(2)), /sample rate/],
  ['endless rate', aiff({ frames: 1, bits: 16, rate: 'f'.repeat(20) }, new Uint8Array(2)), /sample rate/],
  ['0 channels', aiff({ channels: 0, frames: 1, bits: 16 }, new Uint8Array(2)), /0 channels/],
  ['64 channels', aiff({ channels: 64, frames: 1, bits: 8 }, new Uint8Array(64)), /64 channels/],
  ['no sound', aiff({ frames: 0, bits: 16 }, new Uint8Array(0)), /no sound/],
  ['0 bits', aiff({ frames: 1, bits: 0 }, new Uint8Array(2)), /0 bits/],
];

for (const [what, bytes, reason] of unusable) {
  test(`an AIFF that cannot be read is refused with its reason: ${what}`, async () => {
    const refusal = await open(bytes).catch((error: unknown) => error);
    assert.ok(refusal instanceof PlainError, String(refusal));
    assert.match(refusal.reason, reason);
  });
}

test('truncation at every byte gives sound with a fault, or a plain error', async () => {
  const whole = aiff({ channels: 2, frames: 4, bits: 16 }, new Uint8Array(16).fill(3));
  for (let length = 1; length < whole.length; length++) {
    const reader = await open(whole.slice(0, length)).catch((error: unknown) => error);
    if (reader instanceof PlainError) continue;
    assert.ok(!(reader instanceof Error), `${length}: ${String(reader)}`);
    assert.ok((reader as AudioReader).facts.faults.length > 0, `cut at ${length} went unnoticed`);
  }
});

// The MD5 of the little-endian integers of this CC0 one-shot was made with ffmpeg (-c:a pcm_s16le -f md5).
test('a recorded AIFF reads as ffmpeg reads it', async () => {
  const folder = dirname(createRequire(import.meta.url).resolve('supersonic-scsynth-samples'));
  const reader = await open(new Uint8Array(await readFile(join(folder, 'samples', 'bd_haus.aiff'))));
  const [left, right] = await reader.readFrames(0, reader.facts.frameCount);
  assert.equal(left!.length, 9699);
  const bytes = Buffer.alloc(4 * left!.length);
  left!.forEach((value, n) => bytes.writeInt16LE(32768 * value, 4 * n));
  right!.forEach((value, n) => bytes.writeInt16LE(32768 * value, 4 * n + 2));
  assert.equal(createHash('md5').update(bytes).digest('hex'), 'b5d70e701820b24bd0e9c4ee07c58533');
});
