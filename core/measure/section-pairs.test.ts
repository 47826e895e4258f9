import assert from 'node:assert/strict';
import { test } from 'node:test';
import { BiquadCascade } from '../dsp/biquad.js';
import { SeededRandom } from '../units/seeded-random.js';
import { kWeighting } from './k-weighting.js';
import { SectionPairs } from './section-pairs.js';
import { SMALL_SPEAKERS } from './small-speakers.js';

const RATE_Hz = 48_000;
const noise = (seed: number): Float64Array => {
  const random = new SeededRandom(seed);
  return Float64Array.from({ length: 1200 }, (_, n) => (n < 1000 ? random.between(-1, 1) : 0));
};

// one filter alone, two at once, and three: two and one
for (const count of [1, 2, 3]) {
  test(`${count} filters give what as many cascades give, in pieces, and their energies`, () => {
    const filters = [kWeighting(RATE_Hz), ...SMALL_SPEAKERS.map((speaker) => speaker.sections(RATE_Hz))].slice(
      0,
      count,
    );
    const inputs = filters.map((_, i) => noise(12 + i));
    const expected = inputs.map((input, i) => {
      const output = input.slice();
      new BiquadCascade(filters[i]!).process(output);
      return output;
    });
    const pairs = new SectionPairs(filters);
    const energies = new Float64Array(count);
    const sums = new Float64Array(count);
    for (let from = 0; from < 1200; from += 100) {
      const pieces = inputs.map((input) => input.slice(from, from + 100));
      pairs.filter(pieces, pieces, 100, energies);
      pieces.forEach((piece, i) => {
        sums[i]! += energies[i]!;
        piece.forEach((value, n) => assert.ok(Math.abs(value - expected[i]![from + n]!) < 1e-12, `frame ${from + n}`));
      });
    }
    expected.forEach((output, i) => {
      const wanted = output.reduce((sum, value) => sum + value * value, 0);
      assert.ok(Math.abs(sums[i]! / wanted - 1) < 1e-12);
    });
  });
}

test('a filter that has not two sections is refused', () => {
  assert.throws(() => new SectionPairs([kWeighting(RATE_Hz).slice(1)]), RangeError);
});
