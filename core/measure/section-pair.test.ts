import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BiquadCascade } from '../dsp/biquad.js';
import { SeededRandom } from '../units/seeded-random.js';
import { kWeighting } from './k-weighting.js';
import { SectionPair } from './section-pair.js';

test('a pair gives what the cascade gives, in pieces, and silence beyond the input', () => {
  const random = new SeededRandom(12);
  const input = Float32Array.from({ length: 1000 }, () => random.between(-1, 1));
  const expected = new Float64Array(1200);
  expected.set(input);
  new BiquadCascade(kWeighting(48000)).process(expected);
  const pair = new SectionPair(kWeighting(48000));
  const piece = new Float64Array(100);
  for (let from = 0; from < 1200; from += 100) {
    pair.process(input, from, piece, 100);
    for (let n = 0; n < 100; n++) assert.ok(Math.abs(piece[n]! - expected[from + n]!) < 1e-14, `frame ${from + n}`);
  }
  assert.throws(() => new SectionPair(kWeighting(48000).slice(1)), RangeError);
});
