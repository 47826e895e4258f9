import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import {
  bextContent,
  formatContent,
  riffBytes,
  wavBytes,
  words16,
  type ChunkBytes,
  type FormatWords,
} from '../../tests/sound-bytes/wav-bytes.js';
import { PlainError } from '../units/plain-error.js';
import type { AudioReader } from './audio-reader.js';
import { ByteArraySource } from './byte-array-source.js';
import type { CompressedDecoders } from './compressed-decoders.js';
import { openAnyAudioFile, openAudioFile } from './open-audio-file.js';

const noDecoders: CompressedDecoders = { openFlac: () => Promise.reject(new Error('not in this test')) };

function open(bytes: Uint8Array, name = 'kick.wav'): Promise<AudioReader> {
  return openAudioFile(name, new ByteArraySource(bytes), noDecoders);
}

async function samplesOf(bytes: Uint8Array): Promise<number[][]> {
  const reader = await open(bytes);
  return (await reader.readFrames(0, reader.facts.frameCount)).map((channel) => [...channel]);
}

function faultIds(reader: AudioReader): string[] {
  return reader.facts.faults.map(({ id }) => id);
}

/** Each encoding with bytes written by Node's own Buffer and what they mean: n / 2^(b-1). */
const encodings: readonly { words: FormatWords; depth: string; bytes: Uint8Array; values: readonly number[] }[] = [
  { words: { bits: 8 }, depth: '8', bytes: Uint8Array.of(0, 128, 255, 64), values: [-1, 0, 127 / 128, -0.5] },
  {
    words: { bits: 16 },
    depth: '16',
    bytes: words16([-32768, 0, 32767, 1]),
    values: [-1, 0, 32767 / 32768, 1 / 32768],
  },
  {
    words: { bits: 24 },
    depth: '24',
    bytes: Uint8Array.of(0, 0, 0x80, 0xff, 0xff, 0x7f, 1, 0, 0, 0xff, 0xff, 0xff),
    values: [-1, 8388607 / 8388608, 1 / 8388608, -1 / 8388608],
  },
  {
    words: { bits: 32 },
    depth: '32',
    bytes: new Uint8Array(Int32Array.of(-2147483648, 2147483647, 1, -1).buffer),
    values: [-1, 2147483647 / 2147483648, 1 / 2147483648, -1 / 2147483648],
  },
  {
    words: { bits: 32, tag: 3 },
    depth: '32f',
    bytes: new Uint8Array(Float32Array.of(-1.5, 0.1, 0, 1e-20).buffer),
    values: [-1.5, Math.fround(0.1), 0, Math.fround(1e-20)],
  },
  {
    words: { bits: 64, tag: 3 },
    depth: '64f',
    bytes: new Uint8Array(Float64Array.of(-1.5, 0.1, 0, 1e-20).buffer),
    values: [-1.5, 0.1, 0, 1e-20],
  },
];

for (const { words, depth, bytes, values } of encodings) {
  test(`${depth} samples are read exactly, plain and extensible, mono and stereo`, async () => {
    assert.deepEqual(await samplesOf(wavBytes(words, bytes)), [values]);
    const extensible = { validBits: words.bits!, mask: 4 };
    const reader = await open(wavBytes({ ...words, extensible }, bytes));
    assert.equal(reader.facts.bitDepth, depth);
    assert.equal(reader.facts.channelMask, 4);
    assert.deepEqual([...(await reader.readFrames(0, 4))[0]!], values);
    const stereo = await samplesOf(wavBytes({ ...words, channels: 2 }, bytes));
    assert.deepEqual(stereo, [
      [values[0], values[2]],
      [values[1], values[3]],
    ]);
  });
}

test('channels are Float32Array where that is exact, Float64Array otherwise', async () => {
  for (const { words, depth, bytes } of encodings) {
    const [channel] = await (await open(wavBytes(words, bytes))).readFrames(0, 1);
    const wide = depth === '32' || depth === '64f';
    assert.equal(channel instanceof Float64Array, wide, depth);
  }
});

test('valid bits under the container are told and the samples stand at the top of it', async () => {
  const words = { bits: 32, extensible: { validBits: 24, mask: 4 } };
  const reader = await open(wavBytes(words, new Uint8Array(Int32Array.of(256, -256).buffer)));
  assert.equal(reader.facts.validBits, 24);
  assert.deepEqual([...(await reader.readFrames(0, 2))[0]!], [1 / 8388608, -1 / 8388608]);
});

test('any block of frames equals the same part of the whole', async () => {
  const values = Array.from({ length: 1000 }, (_, n) => ((n * 7919) % 65536) - 32768);
  const reader = await open(wavBytes({ channels: 2 }, words16(values)));
  const whole = await reader.readFrames(0, 500);
  await fc.assert(
    fc.asyncProperty(fc.integer({ min: -5, max: 510 }), fc.integer({ min: 0, max: 510 }), async (from, count) => {
      const part = await reader.readFrames(from, count);
      const start = Math.max(0, from);
      part.forEach((channel, i) => assert.deepEqual(channel, whole[i]!.slice(start, Math.max(start, from + count))));
    }),
  );
});

test('samples that are no number are counted and read as 0; what is under 1e-30 becomes 0', async () => {
  const data = new Uint8Array(Float32Array.of(NaN, 0.5, Infinity, -Infinity, 1e-31, -1e-40, 1e-29).buffer);
  const block = await (await open(wavBytes({ bits: 32, tag: 3 }, data))).readBlock(0, 7);
  assert.equal(block.notFiniteCount, 3);
  assert.deepEqual([...block.channels[0]!], [0, 0.5, 0, 0, 0, 0, Math.fround(1e-29)]);
});

test('bext: every field at its offset of EBU Tech 3285; 172 800 000 samples are 01:00:00 at 48 kHz', async () => {
  const bext = { id: 'bext', content: bextContent(172_800_000n, 1, 'A=PCM,F=48000,W=24,M=mono,T=x\r\n') };
  const reader = await open(wavBytes({}, words16([1, 2]), [bext]));
  assert.deepEqual(reader.facts.broadcast, {
    description: 'Take 3, close',
    originator: 'Field recorder',
    originatorReference: 'REF0001',
    date: '2026-03-04',
    time: '11:12:13',
    timeReference_samples: 172_800_000,
    version: 1,
    codingHistory: 'A=PCM,F=48000,W=24,M=mono,T=x\r\n',
  });
  const late = { id: 'bext', content: bextContent(5_000_000_000n) };
  const lateReader = await open(wavBytes({}, words16([1, 2]), [late]));
  assert.equal(lateReader.facts.broadcast?.timeReference_samples, 5_000_000_000);
});

test('big-endian RIFX is read', async () => {
  const data = Buffer.from(words16([1, -2, 32767])).swap16();
  for (const extensible of [undefined, { validBits: 16, mask: 4, guid: '0000000100000010800000aa00389b71' }]) {
    const content = formatContent(extensible ? { extensible } : {}, true);
    const bytes = riffBytes(
      [
        { id: 'fmt ', content },
        { id: 'data', content: data },
      ],
      'RIFX',
    );
    const reader = await open(bytes);
    assert.equal(reader.facts.container, 'rifx');
    assert.deepEqual([...(await reader.readFrames(0, 3))[0]!], [1 / 32768, -2 / 32768, 32767 / 32768]);
  }
});

/** ds64 by EBU Tech 3306: RIFF size, data size, sample count of 64 bits, table length, entries of id and 64-bit size. */
function ds64(riff: number, data: number, table: readonly [string, number][] = []): ChunkBytes {
  const content = Buffer.alloc(28 + 12 * table.length);
  content.writeBigUInt64LE(BigInt(riff), 0);
  content.writeBigUInt64LE(BigInt(data), 8);
  content.writeUInt32LE(table.length, 24);
  table.forEach(([id, size], index) => {
    content.write(id, 28 + 12 * index, 'latin1');
    content.writeBigUInt64LE(BigInt(size), 32 + 12 * index);
  });
  return { id: 'ds64', content };
}

for (const form of ['RF64', 'BW64'] as const) {
  test(`${form} takes its sizes from ds64, its table included`, async () => {
    const data = { id: 'data', content: words16([5, 6, 7]), declared: 0xffffffff };
    const axml = { id: 'axml', content: Buffer.from('abcd'), declared: 0xffffffff };
    const tail = { id: 'note', content: Buffer.from('xy') };
    const chunks = [ds64(0, 6, [['axml', 4]]), { id: 'fmt ', content: formatContent() }, data, axml, tail];
    const size = riffBytes(chunks, form).length - 8;
    chunks[0] = ds64(size, 6, [['axml', 4]]);
    const reader = await open(riffBytes(chunks, form, 0xffffffff));
    assert.equal(reader.facts.container, form.toLowerCase());
    assert.equal(reader.facts.frameCount, 3);
    assert.deepEqual(faultIds(reader), []);
    assert.deepEqual(
      reader.facts.chunks.map(({ id, length }) => [id, length]),
      [
        ['ds64', 40],
        ['fmt ', 16],
        ['data', 6],
        ['axml', 4],
        ['note', 2],
      ],
    );
  });
}

const lies: readonly [what: string, bytes: Uint8Array, frames: number][] = [
  ['RIFF size 0', riffBytes([fmt(), data([1, 2])], 'RIFF', 0), 2],
  ['RIFF size FFFFFFFF', riffBytes([fmt(), data([1, 2])], 'RIFF', 0xffffffff), 2],
  ['RIFF size beyond the file', riffBytes([fmt(), data([1, 2])], 'RIFF', 5000), 2],
  [
    'RIFF size short of the file',
    riffBytes([fmt(), data([1, 2]), { id: 'note', content: Buffer.alloc(40) }], 'RIFF', 40),
    2,
  ],
  ['data longer than the file', riffBytes([fmt(), data([1, 2, 3], 600)]), 3],
  ['data size 0 of a streamed file', riffBytes([fmt(), data([1, -2, 3, 4], 0)]), 4],
  ['data size FFFFFFFF', riffBytes([fmt(), data([1, 2, 3, 4], 0xffffffff)]), 4],
  ['a part frame at the end', riffBytes([fmt(2), { id: 'data', content: words16([1, 2, 3]) }]), 1],
];

function fmt(channels = 1): ChunkBytes {
  return { id: 'fmt ', content: formatContent({ channels }) };
}

function data(values: readonly number[], declared?: number): ChunkBytes {
  const chunk = { id: 'data', content: words16(values) };
  return declared === undefined ? chunk : { ...chunk, declared };
}

for (const [what, bytes, frames] of lies) {
  test(`a declared length that is untrue is a fault, and the sound is read: ${what}`, async () => {
    const reader = await open(bytes);
    assert.deepEqual(faultIds(reader), ['declared-length']);
    assert.equal(reader.facts.frameCount, frames);
    assert.equal((await reader.readFrames(0, 99))[0]!.length, frames);
  });
}

test('data declared shorter than what follows: the declared part is read, the rest is named', async () => {
  const reader = await open(riffBytes([fmt(), data([1, 2, -3, -4, -5, -6, -7, -8], 4)]));
  assert.equal(reader.facts.frameCount, 2);
  assert.ok(faultIds(reader).includes('stray-bytes'));
});

test('an odd chunk without its pad byte is followed', async () => {
  const odd = { id: 'note', content: Buffer.from('abc'), pad: false };
  const reader = await open(riffBytes([odd, fmt(), data([1, 2])]));
  assert.deepEqual(faultIds(reader), ['missing-pad']);
  assert.equal(reader.facts.frameCount, 2);
});

test('an honest file has no fault, with an odd last chunk padded or not', async () => {
  const odd = { id: 'data', content: Uint8Array.of(1, 2, 3) };
  const format = { id: 'fmt ', content: formatContent({ bits: 24 }) };
  for (const bytes of [riffBytes([format, odd]), riffBytes([format, { ...odd, pad: false }])]) {
    assert.deepEqual(faultIds(await open(bytes)), []);
  }
});

const unusable: readonly [what: string, bytes: Uint8Array, reason: RegExp][] = [
  ['empty', new Uint8Array(0), /empty/],
  ['cut in the header', riffBytes([]).slice(0, 10), /cut short/],
  ['header only', riffBytes([]), /fmt chunk/],
  ['no data', riffBytes([fmt()]), /data chunk/],
  ['no sound', riffBytes([fmt(), data([])]), /no sound/],
  ['fmt cut short', riffBytes([{ id: 'fmt ', content: new Uint8Array(8) }, data([1])]), /fmt chunk is cut/],
  ['0 channels', wavBytes({ channels: 0, blockAlign: 2 }, words16([1])), /0 channels/],
  ['64 channels', wavBytes({ channels: 64 }, new Uint8Array(256)), /64 channels; a stem has 1 or 2/],
  ['rate 0', wavBytes({ sampleRate_Hz: 0 }, words16([1])), /sample rate of 0 Hz/],
  ['rate 4 GHz', wavBytes({ sampleRate_Hz: 4_200_000_000 }, words16([1])), /sample rate of 4200000000 Hz/],
  ['rate 7999', wavBytes({ sampleRate_Hz: 7999 }, words16([1])), /sample rate/],
  ['rate 384001', wavBytes({ sampleRate_Hz: 384_001 }, words16([1])), /sample rate/],
  ['MP3 in a WAV header', wavBytes({ tag: 0x55 }, words16([1])), /MP3/],
  ['unknown tag', wavBytes({ tag: 0x1234 }, words16([1])), /tag 4660/],
  [
    'unknown GUID',
    wavBytes({ extensible: { validBits: 16, mask: 4, guid: 'ff'.repeat(16) } }, words16([1])),
    /not PCM/,
  ],
  ['text', Buffer.from('Please find the stems in the other folder.\n'), /text file/],
  ['MP3', Buffer.from('ID3\x04\0\0\0\0\0\0', 'latin1'), /MPEG audio/],
  ['MP3 without a tag', Uint8Array.of(0xff, 0xfb, 0x90, 0x64), /MPEG audio/],
  ['Ogg', Buffer.from('OggS\0\x02', 'latin1'), /Ogg/],
  ['zeros', new Uint8Array(100), /zeros/],
  ['a picture', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10), /not a sound file/],
  ['too many chunks', riffBytes(Array(5000).fill({ id: 'note', content: new Uint8Array(0) })), /more than 4096/],
];

for (const [what, bytes, reason] of unusable) {
  test(`what cannot be read is refused with file, reason and remedy: ${what}`, async () => {
    const refusal = await open(Uint8Array.from(bytes)).then(
      () => null,
      (error: unknown) => error,
    );
    assert.ok(refusal instanceof PlainError, String(refusal));
    assert.equal(refusal.subject, 'kick.wav');
    assert.match(refusal.reason, reason);
    assert.notEqual(refusal.remedy, '');
  });
}

test('the channels of a surround file are named, and its facts can be read', async () => {
  const words = { channels: 6, extensible: { validBits: 16, mask: 0x3f } };
  const bytes = wavBytes(words, new Uint8Array(24));
  await assert.rejects(
    open(bytes),
    /6 channels \(front left, front right, front centre, low frequency, back left, back right\)/,
  );
  const reader = await openAnyAudioFile('x.wav', new ByteArraySource(bytes), noDecoders);
  assert.equal(reader.facts.frameCount, 2);
});

test('rates from 8 000 to 384 000 Hz are read', async () => {
  for (const sampleRate_Hz of [8_000, 384_000]) {
    assert.equal((await open(wavBytes({ sampleRate_Hz }, words16([1])))).facts.sampleRate_Hz, sampleRate_Hz);
  }
});

test('a name that says another kind is a fault, not a refusal', async () => {
  assert.deepEqual(faultIds(await open(wavBytes({}, words16([1])), 'kick.flac')), ['wrong-extension']);
  assert.deepEqual(faultIds(await open(wavBytes({}, words16([1])), 'kick.WAV')), []);
});

test('truncation at every byte gives sound with a fault, or a plain error', async () => {
  const whole = wavBytes({ channels: 2, bits: 24 }, new Uint8Array(60).fill(7), [
    { id: 'bext', content: bextContent(1n) },
    { id: 'note', content: Buffer.from('abc') },
  ]);
  for (let length = 0; length < whole.length; length++) {
    const reader = await open(whole.slice(0, length)).catch((error: unknown) => error);
    if (reader instanceof PlainError) continue;
    assert.ok(!(reader instanceof Error), `${length}: ${String(reader)}`);
    const { facts } = reader as AudioReader;
    assert.ok(
      facts.faults.length > 0 || length >= whole.length - 1,
      `cut at ${length} of ${whole.length} went unnoticed`,
    );
    assert.equal((await (reader as AudioReader).readFrames(0, 99))[0]!.length, facts.frameCount);
  }
});

test('damaged headers never give anything but sound or a plain error', async () => {
  const whole = wavBytes({ channels: 2, extensible: { validBits: 16, mask: 3 } }, words16([1, 2, 3, 4]), [
    { id: 'bext', content: bextContent(1n) },
  ]);
  const damage = fc.array(fc.tuple(fc.nat(100), fc.nat(255)), { minLength: 1, maxLength: 6 });
  await fc.assert(
    fc.asyncProperty(damage, async (changes) => {
      const bytes = whole.slice();
      for (const [at, value] of changes) bytes[at] = value;
      const reader = await open(bytes).catch((error: unknown) => error);
      if (reader instanceof PlainError) return;
      assert.ok(!(reader instanceof Error), String(reader));
      const { frameCount } = (reader as AudioReader).facts;
      assert.equal((await (reader as AudioReader).readFrames(0, frameCount))[0]!.length, frameCount);
    }),
    { numRuns: 2000, seed: 3 },
  );
});
