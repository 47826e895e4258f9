import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from '../units/seeded-random.js';
import { mean } from '../units/statistics.js';
import { bootstrapInterval, bootstrapOfValues } from './bootstrap.js';

test('the interval of a mean is about 1.645 standard errors either way (normal theory)', () => {
  const random = new SeededRandom(5);
  const values = Array.from({ length: 400 }, () => random.normal());
  const interval = bootstrapOfValues(values, mean)!;
  const half = (interval.high - interval.low) / 2;
  assert.ok(Math.abs(half - 1.645 / 20) < 0.015, `half width ${half}`);
  assert.ok(interval.low < mean(values) && mean(values) < interval.high);
});

test('the same data give the same interval, and one value gives none', () => {
  const values = [3, 1, 4, 1, 5, 9, 2, 6];
  assert.deepEqual(bootstrapOfValues(values, mean), bootstrapOfValues(values, mean));
  assert.equal(bootstrapOfValues([1], mean), undefined);
  assert.equal(
    bootstrapInterval(5, () => NaN),
    undefined,
  );
});
