import assert from 'node:assert/strict';
import { test } from 'node:test';
import fc from 'fast-check';
import { searchLeast } from './bounded-search.js';

const question = {
  least: 0,
  most: 10,
  start: 5,
  target: 3,
  tolerance: 0.05,
  direction: 1 as const,
  maxTrials: 12,
};

test('a rising line is met within the tolerance, on the side of the wish', () => {
  const found = searchLeast({ ...question, evaluate: (x) => 0.5 * x });
  assert.ok(found.met && found.result >= 3 && found.result <= 3.05, JSON.stringify(found));
});

test('a wish met without treatment ends at the least amount', () => {
  const found = searchLeast({ ...question, evaluate: () => 7 });
  assert.equal(found.amount, 0);
  assert.equal(found.met, true);
});

test('a wish out of reach ends at the most and says so', () => {
  const found = searchLeast({ ...question, evaluate: (x) => 0.1 * x });
  assert.equal(found.amount, 10);
  assert.equal(found.met, false);
  assert.equal(found.stoppedBy, 'range');
});

test('a falling statistic and a range that runs downward (a threshold) work the same', () => {
  const found = searchLeast({
    ...question,
    least: 0,
    most: -40,
    start: -10,
    target: 2,
    direction: -1,
    evaluate: (threshold) => 6 + threshold / 5,
  });
  assert.ok(found.met && found.result <= 2 && found.result >= 1.95, JSON.stringify(found));
});

test('any monotone curve: met when it can be, bounded in trials, the same twice', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.2, max: 5, noNaN: true }),
      fc.double({ min: 0, max: 10, noNaN: true }),
      fc.double({ min: 0.05, max: 0.95, noNaN: true }),
      (bend, start, wanted) => {
        const curve = (x: number) => Math.pow(x / 10, bend);
        const ask = { ...question, start, target: wanted, tolerance: 0.02, maxTrials: 16, evaluate: curve };
        const found = searchLeast(ask);
        assert.ok(found.met);
        assert.ok(found.trials.length <= 16);
        assert.deepEqual(searchLeast(ask), found);
      },
    ),
    { seed: 7, numRuns: 300 },
  );
});
