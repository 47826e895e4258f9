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

test('a rising line is met within the tolerance, on the side of the wish', async () => {
  const found = await searchLeast({ ...question, evaluate: (x) => Promise.resolve(0.5 * x) });
  assert.ok(found.met && found.result >= 3 && found.result <= 3.05, JSON.stringify(found));
});

test('a wish met without treatment ends at the least amount', async () => {
  const found = await searchLeast({ ...question, evaluate: () => Promise.resolve(7) });
  assert.equal(found.amount, 0);
  assert.equal(found.met, true);
});

test('a wish out of reach ends at the most and says so', async () => {
  const found = await searchLeast({ ...question, evaluate: (x) => Promise.resolve(0.1 * x) });
  assert.equal(found.amount, 10);
  assert.equal(found.met, false);
  assert.equal(found.stoppedBy, 'range');
});

test('a falling statistic and a range that runs downward (a threshold) work the same', async () => {
  const found = await searchLeast({
    ...question,
    least: 0,
    most: -40,
    start: -10,
    target: 2,
    direction: -1,
    evaluate: (threshold) => Promise.resolve(6 + threshold / 5),
  });
  assert.ok(found.met && found.result <= 2 && found.result >= 1.95, JSON.stringify(found));
});

test('any monotone curve: met when it can be, bounded in trials, the same twice', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.double({ min: 0.2, max: 5, noNaN: true }),
      fc.double({ min: 0, max: 10, noNaN: true }),
      fc.double({ min: 0.05, max: 0.95, noNaN: true }),
      async (bend, start, wanted) => {
        const curve = (x: number) => Math.pow(x / 10, bend);
        const ask = {
          ...question,
          start,
          target: wanted,
          tolerance: 0.02,
          maxTrials: 16,
          evaluate: (x: number) => Promise.resolve(curve(x)),
        };
        const found = await searchLeast(ask);
        assert.ok(found.met);
        assert.ok(found.trials.length <= 16);
        assert.deepEqual(await searchLeast(ask), found);
      },
    ),
    { seed: 7, numRuns: 300 },
  );
});
