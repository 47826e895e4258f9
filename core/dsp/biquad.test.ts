import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from '../units/seeded-random.js';
import { BiquadCascade, filteredBothWays } from './biquad.js';
import { butterworthBandPass } from './butterworth.js';

const random = new SeededRandom(9);
const noise = Float64Array.from({ length: 700 }, () => random.between(-1, 1));
const sections = butterworthBandPass(3, 100, 900, 8000);

test('a cascade gives what its sections give one by one, to the last bit, in pieces too', () => {
  assert.equal(sections.length, 3);
  for (let count = 1; count <= 3; count++) {
    const used = sections.slice(0, count);
    const expected = noise.slice();
    for (const section of used) new BiquadCascade([section]).process(expected);
    const whole = noise.slice();
    const cascade = new BiquadCascade(used);
    for (let from = 0; from < whole.length; from += 100) cascade.process(whole.subarray(from, from + 100));
    assert.deepEqual(whole, expected);
  }
});

test('filtered both ways, a pulse comes out symmetrical about its place', () => {
  const pulse = new Float64Array(401);
  pulse[200] = 1;
  const filtered = filteredBothWays(pulse, sections, 800);
  assert.equal(filtered.length, pulse.length);
  assert.ok(filtered[200]! > 0.1);
  for (let n = 1; n <= 200; n++) assert.ok(Math.abs(filtered[200 + n]! - filtered[200 - n]!) < 1e-12, `${n}`);
});
