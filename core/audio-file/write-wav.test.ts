import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import {
  bextContent,
  chunkBytes,
  formatContent,
  riffBytes,
  words16,
  type ChunkBytes,
} from '../../tests/sound-bytes/wav-bytes.js';
import type { Channel } from '../signal/stereo-signal.js';
import { PlainError } from '../units/plain-error.js';
import { SeededRandom } from '../units/seeded-random.js';
import { ByteArraySink } from './byte-array-sink.js';
import { ByteArraySource } from './byte-array-source.js';
import { codingHistoryLine } from './broadcast-extension.js';
import { carriedChunks, type CarriedChunks } from './carried-chunks.js';
import type { CompressedDecoders } from './compressed-decoders.js';
import { openAudioFile } from './open-audio-file.js';
import type { PrintDepth } from './sample-encoder.js';
import { WavWriter, type WavPlan } from './write-wav.js';

const noDecoders: CompressedDecoders = { openFlac: () => Promise.reject(new Error('not in this test')) };
const line = codingHistoryLine(48_000, 24, 2, 'Keelson');

async function written(
  plan: Partial<WavPlan> & { depth: PrintDepth },
  channels: readonly Channel[],
  blockSize = Infinity,
): Promise<Uint8Array> {
  let result: Uint8Array | null = null;
  const sink = new ByteArraySink((bytes) => (result = bytes));
  const count = channels.length as 1 | 2;
  const writer = await WavWriter.open(sink, {
    name: 'bass.wav',
    channels: count,
    sampleRate_Hz: 48_000,
    ditherSeed: null,
    ...plan,
  });
  const frames = channels[0]!.length;
  for (let from = 0; from < frames; from += blockSize) {
    await writer.writeFrames(channels.map((channel) => channel.subarray(from, Math.min(frames, from + blockSize))));
  }
  await writer.finish();
  assert.ok(result !== null);
  return result;
}

function reopened(bytes: Uint8Array): ReturnType<typeof openAudioFile> {
  return openAudioFile('bass.wav', new ByteArraySource(bytes), noDecoders);
}

async function carriedFrom(bytes: Uint8Array): Promise<CarriedChunks> {
  const source = new ByteArraySource(bytes);
  return carriedChunks(source, (await reopened(bytes)).facts, { codingHistoryLine: line });
}

function integers(bits: number, count: number, seed: number): Float64Array {
  const random = new SeededRandom(seed);
  const scale = 2 ** (bits - 1);
  return Float64Array.from({ length: count }, () => (random.below(2 * scale) - scale) / scale);
}

const exact: readonly [depth: PrintDepth, samples: (seed: number) => Channel][] = [
  ['16', (seed) => integers(16, 3001, seed)],
  ['24', (seed) => integers(24, 3001, seed)],
  ['32f', (seed) => Float32Array.from(integers(24, 3001, seed), (value) => 1.7 * value)],
];

for (const [depth, samples] of exact) {
  for (const count of [1, 2]) {
    test(`${depth}, ${count} channel(s): what was written is read back to the bit, in blocks of any size`, async () => {
      const channels = Array.from({ length: count }, (_, index) => samples(index));
      const whole = await written({ depth }, channels);
      assert.deepEqual(await written({ depth }, channels, 7), whole);
      const reader = await reopened(whole);
      assert.deepEqual(reader.facts.faults, []);
      assert.equal(reader.facts.bitDepth, depth);
      const back = await reader.readFrames(0, 3001);
      channels.forEach((channel, index) => assert.deepEqual([...back[index]!], [...channel]));
    });
  }
}

test('24-bit is WAVE_FORMAT_EXTENSIBLE with the GUID of PCM, byte for byte; sizes count no pad', async () => {
  const bytes = await written({ depth: '24' }, [Float64Array.of(0.5)]);
  const expected = Buffer.concat([
    Buffer.from('RIFF', 'latin1'),
    Buffer.from([4 + 36 + 48 + 8 + 4, 0, 0, 0]),
    Buffer.from('WAVEJUNK', 'latin1'),
    Buffer.from([28, 0, 0, 0, ...Array<number>(28).fill(0)]),
    Buffer.from('fmt ', 'latin1'),
    // size 40, tag FFFE, 1 channel, 48000, 144000 bytes/s, 3 bytes/frame, 24 bits, 22 more, 24 valid, mask 4 (front centre)
    Buffer.from(
      '28000000' + 'feff' + '0100' + '80bb0000' + '80320200' + '0300' + '1800' + '1600' + '1800' + '04000000',
      'hex',
    ),
    Buffer.from('0100000000001000800000aa00389b71', 'hex'),
    Buffer.from('data', 'latin1'),
    Buffer.from([3, 0, 0, 0, 0, 0, 0x40, 0]),
  ]);
  assert.deepEqual(Buffer.from(bytes), expected);
});

test('past the largest size the file becomes RF64, its ds64 by EBU Tech 3306, and nothing else moves', async () => {
  const channels = [integers(24, 501, 1)];
  const plain = await written({ depth: '24' }, channels);
  const wide = await written({ depth: '24', largestRiffSize: plain.length - 9 }, channels);
  assert.equal(wide.length, plain.length);
  const view = Buffer.from(wide);
  assert.equal(view.toString('latin1', 0, 4), 'RF64');
  assert.equal(view.readUInt32LE(4), 0xffffffff);
  assert.equal(view.toString('latin1', 12, 16), 'ds64');
  assert.equal(view.readUInt32LE(16), 28);
  assert.equal(view.readBigUInt64LE(20), BigInt(plain.length - 8));
  assert.equal(view.readBigUInt64LE(28), 1503n);
  assert.equal(view.readBigUInt64LE(36), 501n);
  assert.equal(view.readUInt32LE(44), 0);
  const reader = await reopened(wide);
  assert.deepEqual([reader.facts.container, reader.facts.frameCount, reader.facts.faults], ['rf64', 501, []]);
  assert.deepEqual(await written({ depth: '24', largestRiffSize: plain.length - 8 }, channels), plain);
});

const anyChunk: fc.Arbitrary<ChunkBytes> = fc.record({
  id: fc.constantFrom('LIST', 'cue ', 'iXML', 'odd1', 'axml', 'JUNK'),
  content: fc.uint8Array({ maxLength: 40 }),
});

test('every chunk of the source is carried byte for byte, in order, on its side of the sound', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(anyChunk, { maxLength: 5 }),
      fc.array(anyChunk, { maxLength: 5 }),
      async (before, after) => {
        fc.pre(!(before[0]?.id === 'JUNK' && before[0].content.length === 28));
        const sound = { id: 'data', content: words16([1, 2, 3]) };
        const format = { id: 'fmt ', content: formatContent() };
        const source = riffBytes([...before, format, sound, ...after]);
        const print = await written({ depth: '24', carried: await carriedFrom(source) }, [integers(24, 3, 1)]);
        const dataAt = Buffer.from(print).indexOf(
          'data',
          12 + 36 + 48 + Buffer.concat(before.map((c) => chunkBytes(c))).length,
        );
        const head = Buffer.from(print.subarray(12 + 36 + 48, dataAt));
        assert.deepEqual(head, Buffer.concat(before.map((chunk) => chunkBytes(chunk))));
        const tail = Buffer.from(print.subarray(dataAt + 8 + 10));
        assert.deepEqual(tail, Buffer.concat(after.map((chunk) => chunkBytes(chunk))));
      },
    ),
    { numRuns: 200, seed: 5 },
  );
});

test('a print of a print does not grow by its own reservation', async () => {
  const first = await written({ depth: '16' }, [integers(16, 4, 1)]);
  const second = await written({ depth: '16', carried: await carriedFrom(first) }, [integers(16, 4, 1)]);
  assert.deepEqual(second, first);
});

test('peaks of the source, untrue of a print, are not carried', async () => {
  const peak = { id: 'PEAK', content: new Uint8Array(24) };
  const source = riffBytes([peak, { id: 'fmt ', content: formatContent() }, { id: 'data', content: words16([1]) }]);
  assert.deepEqual((await carriedFrom(source)).before, []);
});

test('bext keeps every byte, gains a coding-history line and loses the loudness of its source', async () => {
  const old = 'A=ANALOGUE,M=mono,T=room\r\n';
  const content = bextContent(172_800_000n, 2, old);
  const source = riffBytes([
    { id: 'bext', content },
    { id: 'fmt ', content: formatContent() },
    { id: 'data', content: words16([1]) },
  ]);
  const print = await written({ depth: '24', carried: await carriedFrom(source) }, [Float64Array.of(0)]);
  const { facts } = await reopened(print);
  assert.equal(facts.broadcast?.timeReference_samples, 172_800_000);
  assert.equal(facts.broadcast.codingHistory, `${old}A=PCM,F=48000,W=24,M=stereo,T=Keelson\r\n`);
  const place = facts.chunks.find(({ id }) => id === 'bext')!;
  const printed = Buffer.from(print.subarray(place.offset, place.offset + 602));
  assert.deepEqual(printed.subarray(0, 412), Buffer.from(content.subarray(0, 412)));
  for (let at = 412; at < 422; at += 2) assert.equal(printed.readInt16LE(at), 0x7fff);
  assert.deepEqual(printed.subarray(422), Buffer.from(content.subarray(422, 602)));
});

test('a history without a line end gets one, padding of the old history goes, none is invented', async () => {
  const history = async (old: string): Promise<string | undefined> => {
    const bext = { id: 'bext', content: bextContent(9n, 1, old) };
    const chunks = [bext, { id: 'fmt ', content: formatContent() }, { id: 'data', content: words16([1]) }];
    const print = await written({ depth: '24', carried: await carriedFrom(riffBytes(chunks)) }, [Float64Array.of(0)]);
    return (await reopened(print)).facts.broadcast?.codingHistory;
  };
  assert.equal(await history('A=PCM'), `A=PCM\r\n${line}\r\n`);
  assert.equal(await history('A=PCM\r\n\0\0\0\0'), `A=PCM\r\n${line}\r\n`);
  assert.equal(await history(''), `${line}\r\n`);
  const plain = riffBytes([
    { id: 'fmt ', content: formatContent() },
    { id: 'data', content: words16([1]) },
  ]);
  assert.deepEqual(await carriedFrom(plain), { before: [], after: [] });
});

test('an integer print that would pass full scale is refused with its peak and a gain; float is not', async () => {
  const loud = [Float64Array.of(0.1, -1.26, 1.1), Float64Array.of(0, 0, 0)];
  const refusal = await written({ depth: '24' }, loud).catch((error: unknown) => error);
  assert.ok(refusal instanceof PlainError);
  assert.match(refusal.reason, /2 samples pass full scale of 24-bit integer; the peak is \+2\.01 dBFS/);
  assert.match(refusal.remedy, /32-bit float, or lower the print by 2\.1 dB/);
  const gain = 10 ** (-2.1 / 20);
  await written({ depth: '24', ditherSeed: 1 }, [loud[0]!.map((value) => gain * value), loud[1]!]);
  await written({ depth: '32f' }, loud);
  await assert.rejects(written({ depth: '16' }, [Float64Array.of(1)]), PlainError);
  await written({ depth: '16' }, [Float64Array.of(-1)]);
});

test('whatever fails, the sink is abandoned and no file comes', async () => {
  const calls: string[] = [];
  const broken = new ByteArraySink(() => calls.push('finished'));
  broken.abandon = async () => void calls.push('abandoned');
  const plan: WavPlan = { name: 'b.wav', depth: '16', channels: 1, sampleRate_Hz: 48_000, ditherSeed: null };
  const writer = await WavWriter.open(broken, plan);
  await writer.writeFrames([Float64Array.of(NaN)]);
  await assert.rejects(writer.finish(), /not numbers/);
  const second = await WavWriter.open(broken, plan);
  await assert.rejects(second.writeFrames([new Float64Array(1), new Float64Array(1)]), RangeError);
  assert.deepEqual(calls, ['abandoned', 'abandoned']);
});

/** Error of a 16-bit print in LSB, measured from the bytes. */
async function errorOf(samples: Float64Array, ditherSeed: number | null): Promise<Float64Array> {
  const back = await (
    await reopened(await written({ depth: '16', ditherSeed }, [samples, samples]))
  ).readFrames(0, 2 ** 20);
  return Float64Array.from(samples, (value, n) => 32768 * (back[0]![n]! - value));
}

function variance(values: Float64Array): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
}

// Lipshitz, Wannamaker and Vanderkooy, JAES 40(5), 1992: TPDF error variance LSB^2 / 4, whatever the signal; none 1/12.
// 2^20 samples: the standard deviation of the variance is 0.13 % of it, so that 1 % is seven of them.
for (const dc_LSB of [0, 0.25, 0.5]) {
  test(`TPDF error variance is LSB^2 / 4 within 1 % at a DC of ${dc_LSB} LSB, and its mean is 0`, async () => {
    const error = await errorOf(new Float64Array(2 ** 20).fill((dc_LSB + 100) / 32768), 11);
    assert.ok(Math.abs(variance(error) - 0.25) < 0.0025, `${variance(error)}`);
    const mean = error.reduce((sum, value) => sum + value, 0) / error.length;
    assert.ok(Math.abs(mean) < 0.0025, `mean ${mean}: five standard deviations of 0.5 / 2^10`);
  });
}

test('without dither the error variance is LSB^2 / 12', async () => {
  const random = new SeededRandom(4);
  const error = await errorOf(
    Float64Array.from({ length: 2 ** 20 }, () => random.between(-0.9, 0.9)),
    null,
  );
  assert.ok(Math.abs(variance(error) - 1 / 12) < 0.01 / 12, `${variance(error)}`);
});

test('dither is the same for a seed, another for another, independent between channels and seeds', async () => {
  const silence = new Float64Array(2 ** 16);
  const bytes = await written({ depth: '16', ditherSeed: 3 }, [silence, silence]);
  assert.deepEqual(await written({ depth: '16', ditherSeed: 3 }, [silence, silence], 1000), bytes);
  const [left, right] = await (await reopened(bytes)).readFrames(0, 2 ** 16);
  const other = await written({ depth: '16', ditherSeed: 4 }, [silence, silence]);
  const [otherLeft, otherRight] = await (await reopened(other)).readFrames(0, 2 ** 16);
  const pairs: [Channel, Channel][] = [
    [left!, right!],
    [left!, otherLeft!],
    [right!, otherLeft!],
    [left!, otherRight!],
  ];
  for (const [a, b] of pairs) {
    const product = Float64Array.from(a).reduce((sum, value, n) => sum + value * b[n]!, 0);
    const correlation = (product * 32768 ** 2) / 2 ** 16 / 0.25;
    assert.ok(Math.abs(correlation) < 5 / 2 ** 8, `correlation ${correlation}, its standard deviation 1 / 2^8`);
  }
});
