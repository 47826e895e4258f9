import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from '../units/seeded-random.js';
import { slidingCorrelation } from './sliding-correlation.js';

function directCorrelation(samples: Float64Array, model: Float64Array): number[] {
  return Array.from({ length: samples.length - model.length + 1 }, (_, n) =>
    model.reduce((sum, value, k) => sum + value * samples[n + k]!, 0),
  );
}

test('every place is correlated as the definition says, over several blocks', () => {
  const random = new SeededRandom(5);
  const noise = (length: number) => Float64Array.from({ length }, () => random.between(-1, 1));
  for (const [length, span] of [
    [1000, 37],
    [260, 37],
    [37, 37],
    [5, 1],
  ] as const) {
    const samples = noise(length);
    const model = noise(span);
    const found = slidingCorrelation(samples, model);
    const expected = directCorrelation(samples, model);
    assert.equal(found.length, expected.length);
    expected.forEach((value, n) => assert.ok(Math.abs(found[n]! - value) < 1e-13, `place ${n} of ${length}`));
  }
});

test('a signal shorter than the model holds no place', () => {
  assert.equal(slidingCorrelation(new Float64Array(3), new Float64Array(4)).length, 0);
});
