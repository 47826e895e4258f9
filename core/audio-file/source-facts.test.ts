import assert from 'node:assert/strict';
import { test } from 'node:test';
import { wavBytes, type FormatWords } from '../../tests/sound-bytes/wav-bytes.js';
import { SeededRandom } from '../units/seeded-random.js';
import { ByteArraySource } from './byte-array-source.js';
import { FlatTopCounter } from './flat-tops.js';
import { HeldSound } from './held-sound.js';
import { measureSourceFacts, type SourceFacts } from './source-facts.js';
import { openWav } from './wav-reader.js';

const RATE = 48_000;

async function factsOf(channels: readonly ArrayLike<number>[], words: FormatWords = {}): Promise<SourceFacts> {
  const frames = channels[0]!.length;
  const interleaved = new Float32Array(frames * channels.length);
  channels.forEach((channel, index) => {
    for (let n = 0; n < frames; n++) interleaved[n * channels.length + index] = channel[n]!;
  });
  const format = { bits: 32, tag: 3, channels: channels.length, sampleRate_Hz: RATE, ...words };
  const bytes = wavBytes(format, new Uint8Array(interleaved.buffer));
  const reader = await openWav('bass.wav', new ByteArraySource(bytes));
  const facts = await measureSourceFacts(reader);
  // a file held in memory tells the same as one read block by block
  assert.deepEqual(await measureSourceFacts(await HeldSound.read(reader)), facts);
  return facts;
}

function ids(facts: SourceFacts): string[] {
  return facts.faults.map(({ id }) => id);
}

function sine(frequency_Hz: number, frames: number, amplitude = 0.5): Float64Array {
  return Float64Array.from({ length: frames }, (_, n) => amplitude * Math.sin((2 * Math.PI * frequency_Hz * n) / RATE));
}

function rounded(samples: Float64Array, bits: number): Float64Array {
  return samples.map((value) => Math.round(value * 2 ** (bits - 1)) / 2 ** (bits - 1));
}

test('a good file has no fault; peaks are those of its channels', async () => {
  const facts = await factsOf([sine(55, 70_000, 0.5), sine(82, 70_000, 0.25)]);
  assert.deepEqual(ids(facts), []);
  assert.ok(Math.abs(facts.peaks[0]! - 0.5) < 1e-4 && Math.abs(facts.peaks[1]! - 0.25) < 1e-4);
});

test('silent: zeros, and dither around nothing', async () => {
  assert.deepEqual(ids(await factsOf([new Float64Array(100)])), ['silent']);
  const random = new SeededRandom(1);
  const noise = Float64Array.from({ length: 5000 }, () => Math.round(random.uniform() - random.uniform()) / 32768);
  assert.deepEqual(ids(await factsOf([noise, noise])), ['silent']);
  assert.deepEqual(ids(await factsOf([sine(55, 5000, 0.001)])), []);
});

test('a silent side is named', async () => {
  const silent = new Float64Array(5000);
  const left = await factsOf([silent, sine(55, 5000)]);
  assert.deepEqual(ids(left), ['silent-side']);
  assert.match(left.faults[0]!.sentence, /left channel is silent/);
  assert.match((await factsOf([sine(55, 5000), silent])).faults[0]!.sentence, /right channel is silent/);
});

test('dual mono: to the last bit, but for rounding, and not where the channels differ', async () => {
  const left = sine(55, 5000);
  const same = await factsOf([left, left]);
  assert.deepEqual(ids(same), ['dual-mono']);
  assert.match(same.faults[0]!.sentence, /to the last bit/);
  const near = await factsOf([left, rounded(left, 17)]);
  assert.deepEqual(ids(near), ['dual-mono']);
  assert.match(near.faults[0]!.sentence, /but for rounding/);
  assert.deepEqual(ids(await factsOf([left, left.map((value) => 1.001 * value)])), []);
  assert.deepEqual(ids(await factsOf([left, left.map((value) => -value)])), []);
});

test('samples that are no number are counted over all blocks', async () => {
  const samples = sine(55, 140_000);
  samples[3] = NaN;
  samples[70_000] = Infinity;
  samples[139_999] = -Infinity;
  const facts = await factsOf([samples]);
  assert.deepEqual(ids(facts), ['not-finite-samples']);
  assert.equal(facts.notFiniteCount, 3);
});

function fallingKick(): Float64Array {
  let phase = 0;
  return Float64Array.from({ length: 48_000 }, (_, n) => {
    phase += (45 + 200 * Math.exp(-n / 1000)) / RATE;
    return 0.9 * Math.sin(2 * Math.PI * phase) * Math.exp(-n / 9000);
  });
}

function noise(): Float64Array {
  const random = new SeededRandom(2);
  return Float64Array.from({ length: 48_000 }, () => random.between(-0.9, 0.9));
}

const kick = fallingKick();
const hiss = noise();

/** Sounds that were never clipped: low tones as 16-bit, 24-bit and float, with decay, glide and noise. */
const sounds: readonly [what: string, samples: Float64Array][] = [
  ...[20, 30, 41.2, 55, 110, 1000, 11_000].flatMap((frequency_Hz): [string, Float64Array][] => [
    [`${frequency_Hz} Hz`, sine(frequency_Hz, 100_000, 0.9)],
    [`${frequency_Hz} Hz in 16 bits`, rounded(sine(frequency_Hz, 100_000, 0.9), 16)],
    [`${frequency_Hz} Hz, low level, in 16 bits`, rounded(sine(frequency_Hz, 100_000, 0.01), 16)],
  ]),
  ['a falling kick', rounded(kick, 16)],
  [
    'a kick with a bass',
    rounded(
      sine(49, 48_000, 0.4).map((value, n) => value + kick[n]!),
      24,
    ),
  ],
  ['noise', hiss],
  ['a bass with noise', sine(41.2, 48_000, 0.8).map((value, n) => value + 0.02 * hiss[n]!)],
];

for (const [what, samples] of sounds) {
  test(`what was never clipped is not called clipped: ${what}`, async () => {
    assert.equal((await factsOf([samples])).clippedRuns, 0);
  });
}

for (const over_dB of [0.2, 0.5, 1, 3, 6]) {
  for (const frequency_Hz of [41.2, 110, 1000]) {
    test(`tops cut by ${over_dB} dB at ${frequency_Hz} Hz are counted, each once, at any later level and depth`, async () => {
      const ceiling = 10 ** (-over_dB / 20);
      const clipped = sine(frequency_Hz, 200_000, 1).map((value) => Math.max(-ceiling, Math.min(ceiling, value)));
      const tops = Math.round((2 * frequency_Hz * 200_000) / RATE);
      for (const later of [clipped, clipped.map((value) => 0.3 * value), rounded(clipped, 16)]) {
        const facts = await factsOf([later]);
        assert.ok(Math.abs(facts.clippedRuns - tops) <= 1, `${facts.clippedRuns} of ${tops}`);
        assert.deepEqual(ids(facts), ['clipped-source']);
      }
    });
  }
}

test('a run of two is no flat top, one of three with steep flanks is; a touch of the end is none', () => {
  const runs = (...values: number[]): number => {
    const counter = new FlatTopCounter(1, 1 / 32768);
    counter.count(Float64Array.from(values), 0, values.length);
    return counter.runs;
  };
  assert.equal(runs(0, 1, 1, 0), 0);
  assert.equal(runs(0, 1, 1, 1, 0), 1);
  assert.equal(runs(0, -1, -1, -1, 0), 1);
  assert.equal(runs(0, 1, 1, -1, -1, 0), 0);
  assert.equal(runs(0, 1, 1, 1, -1, -1, -1, 0), 2);
  assert.equal(runs(0, 1, 1, 1), 0);
  assert.equal(runs(0.998, 1, 1, 1, 0.998), 0);
});
