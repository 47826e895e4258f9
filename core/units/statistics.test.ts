import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import { mean, median, percentile, robustDeviation, sorted, theilSenLine } from './statistics.js';
import { SeededRandom } from './seeded-random.js';

test('percentiles interpolate between order statistics', () => {
  // Hyndman and Fan 1996, type 7, by hand: position (n - 1) p / 100
  const values = [15, 20, 35, 40, 50];
  assert.equal(percentile(values, 0), 15);
  assert.equal(percentile(values, 25), 20);
  assert.equal(percentile(values, 40), 29);
  assert.equal(percentile(values, 50), 35);
  assert.equal(percentile(values, 90), 46);
  assert.equal(percentile(values, 100), 50);
  assert.equal(percentile([1, 2, 3, 4], 50), 2.5);
  assert.equal(percentile([7], 33), 7);
  assert.ok(Number.isNaN(percentile([], 50)));
});

test('order of the input does not matter, and the input is not changed', () => {
  const values = [5, -1, 3];
  assert.equal(median(values), 3);
  assert.deepEqual(values, [5, -1, 3]);
  assert.deepEqual([...sorted([10, 9, -2, 1])], [-2, 1, 9, 10]);
});

test('a percentile lies within the values and rises with p', () => {
  const numbers = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 40 });
  fc.assert(
    fc.property(numbers, fc.integer({ min: 0, max: 99 }), (values, p) => {
      const low = percentile(values, p);
      const high = percentile(values, p + 1);
      assert.ok(low >= Math.min(...values) - 1e-9 && high <= Math.max(...values) + 1e-9 && low <= high + 1e-9);
    }),
    { seed: 1 },
  );
});

test('mean and robust deviation', () => {
  assert.equal(mean([1, 2, 3, 6]), 3);
  // median 3, absolute deviations 2 1 0 1 97, their median 1
  assert.equal(robustDeviation([1, 2, 3, 4, 100]), 1.4826);
});

test('the robust deviation of a normal sample is its standard deviation', () => {
  const random = new SeededRandom(11);
  const sample = Array.from({ length: 20_000 }, () => 3 + 2 * random.normal());
  // standard error of the estimate at this size: 2 * 1.17 / sqrt(20 000) = 0.017; three of them
  assert.ok(Math.abs(robustDeviation(sample) - 2) < 0.05);
});

test('a line through points is found, and one wild point does not move it', () => {
  const x = [0, 1, 2, 3, 4, 5, 6];
  const y = x.map((value) => 2 - 0.5 * value);
  assert.deepEqual(theilSenLine(x, y), { slope: -0.5, intercept: 2 });
  y[3] = 1000;
  assert.deepEqual(theilSenLine(x, y), { slope: -0.5, intercept: 2 });
});

test('a steep line is held within the limit, equal places have no slope', () => {
  assert.equal(theilSenLine([0, 1, 2], [0, 5, 10], 1).slope, 1);
  assert.equal(theilSenLine([0, 1, 2], [0, -5, -10], 1).slope, -1);
  assert.deepEqual(theilSenLine([4, 4, 4], [1, 2, 9]), { slope: 0, intercept: 2 });
});
