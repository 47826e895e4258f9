import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BiquadCascade } from '../dsp/biquad.js';
import { SeededRandom } from '../units/seeded-random.js';
import { kWeighting } from './k-weighting.js';
import { SectionPair } from './section-pair.js';

test('a pair gives what the cascade gives, in pieces, and its energy', () => {
  const random = new SeededRandom(12);
  const input = Float64Array.from({ length: 1200 }, (_, n) => (n < 1000 ? random.between(-1, 1) : 0));
  const expected = input.slice();
  new BiquadCascade(kWeighting(48000)).process(expected);
  const pair = new SectionPair(kWeighting(48000));
  const piece = new Float64Array(100);
  let energy = 0;
  for (let from = 0; from < 1200; from += 100) {
    piece.set(input.subarray(from, from + 100));
    energy += pair.process(piece, piece, 100);
    for (let n = 0; n < 100; n++) assert.ok(Math.abs(piece[n]! - expected[from + n]!) < 1e-12, `frame ${from + n}`);
  }
  const wanted = expected.reduce((sum, value) => sum + value * value, 0);
  assert.ok(Math.abs(energy / wanted - 1) < 1e-12);
  assert.throws(() => new SectionPair(kWeighting(48000).slice(1)), RangeError);
});
