import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from '../units/seeded-random.js';
import { findSetAside, fitToMix, probeOf } from './set-aside.js';

const frames = 200_000;

function noise(seed: number, gain = 0.1) {
  const random = new SeededRandom(seed);
  const left = Float64Array.from({ length: frames }, () => gain * random.between(-1, 1));
  const right = Float64Array.from({ length: frames }, () => gain * random.between(-1, 1));
  return { left, right, sampleRate_Hz: 48_000 };
}

type Sound = ReturnType<typeof noise>;

function mixed(...parts: [Sound, number][]): Sound {
  const out = noise(0, 0);
  for (const [part, gain] of parts) {
    part.left.forEach((value, n) => (out.left[n]! += gain * value));
    part.right.forEach((value, n) => (out.right[n]! += gain * value));
  }
  return out;
}

const probe = (file: string, signal: Sound) => probeOf(file, signal, frames);

test('a copy at another gain stands aside, the first name stays', () => {
  const found = findSetAside([
    probe('a.wav', noise(1)),
    probe('b.wav', noise(2)),
    probe('c.wav', mixed([noise(1), -0.5])),
  ]);
  assert.equal(found.length, 1);
  assert.equal(found[0]!.file, 'c.wav');
  assert.equal(found[0]!.kind, 'duplicate');
  assert.match(found[0]!.because, /a\.wav, at -6\.02 dB, polarity turned/);
});

test('of two like stems the longer name stands aside: `Keys copy.wav` sorts before `Keys.wav`', () => {
  const found = findSetAside([probe('Keys copy.wav', noise(1)), probe('Keys.wav', noise(1))]);
  assert.deepEqual(
    found.map(({ file, of }) => [file, of]),
    [['Keys copy.wav', ['Keys.wav']]],
  );
});

test('a bus beside its parts stands aside, also with something added; its parts stay', () => {
  const parts = [noise(1), noise(2), noise(3)] as const;
  const bus = mixed([parts[0], 1], [parts[1], 0.8], [noise(9), 0.05]);
  const found = findSetAside([
    probe('kick.wav', parts[0]),
    probe('snare.wav', parts[1]),
    probe('keys.wav', parts[2]),
    probe('drums.wav', bus),
  ]);
  assert.deepEqual(
    found.map(({ file, kind }) => [file, kind]),
    [['drums.wav', 'bus']],
  );
  assert.deepEqual([...found[0]!.of].sort(), ['kick.wav', 'snare.wav']);
});

test('two tracks of one source that differ, and a stem with the kick bleeding into it, stay', () => {
  const source = noise(1);
  const other = mixed([source, 0.9], [noise(5), 0.3]);
  const found = findSetAside([
    probe('bass di.wav', source),
    probe('bass amp.wav', other),
    probe('keys.wav', noise(3)),
    probe('kick.wav', noise(4)),
  ]);
  assert.deepEqual(found, []);
});

test('silent stems neither stand aside nor disturb', () => {
  assert.deepEqual(findSetAside([probe('a', noise(1, 0)), probe('b', noise(2, 0)), probe('c', noise(3))]), []);
});

test('the fit to a rough mix gives its gain and what is left', () => {
  const stems = [noise(1), noise(2)] as const;
  const mix = mixed([stems[0], 0.5], [stems[1], 0.5], [noise(3), 0.05]);
  const fit = fitToMix(probe('mix', mix), [probe('a', stems[0]), probe('b', stems[1])])!;
  assert.ok(Math.abs(fit.gain_dB + 6.02) < 0.05, `${fit.gain_dB}`);
  // one part of energy 0.05^2 against two of 0.5^2: 10 lg(0.0025 / 0.5025) = -23 dB
  assert.ok(Math.abs(fit.residue_dB + 23.03) < 0.1, `${fit.residue_dB}`);
});
