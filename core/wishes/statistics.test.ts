import assert from 'node:assert/strict';
import { test } from 'node:test';
import { measurementsOf } from '../../tests/contracts/measurements-of.js';
import type { CentreMeasure } from '../measure/centre.js';
import { figure, unmeasurable } from '../units/reading.js';
import { improvement, isSafe, readStatistic, STATISTICS, statisticAt } from './statistics.js';

test('addresses are unique, begin with their measure, and each measure has one that is shown first', () => {
  const addresses = STATISTICS.map(({ address }) => address);
  assert.equal(new Set(addresses).size, addresses.length);
  for (const { address, measure } of STATISTICS) assert.ok(address.startsWith(`${measure}.`));
  for (const measure of new Set(STATISTICS.map((one) => one.measure))) {
    assert.equal(STATISTICS.filter((one) => one.measure === measure && one.headline).length, 1, measure);
  }
});

test('a figure is read at its address; of a measure that could not be made the reason is', () => {
  const loss = statisticAt('centre.foldDownLoss_dB')!;
  const centre = { kind: 'measured', foldDownLoss_dB: figure(1.25) } as unknown as CentreMeasure;
  assert.deepEqual(readStatistic(measurementsOf({ centre }), loss), figure(1.25));
  const none = measurementsOf({ centre: unmeasurable('the bass is silent') });
  assert.deepEqual(readStatistic(none, loss), unmeasurable('the bass is silent'));
  assert.equal(statisticAt('centre.nothing'), undefined);
});

test('better by the side that is better; safe on the good side only', () => {
  const higher = statisticAt('clearance.p10_dB')!;
  const lower = statisticAt('evenness.spread_dB')!;
  assert.ok(improvement(higher, 1, 3) === 2 && improvement(lower, 1, 3) === -2);
  assert.ok(isSafe(higher, 6) && !isSafe(higher, 5.9));
  assert.ok(isSafe(lower, 3) && !isSafe(lower, 3.1));
  assert.ok(!isSafe(statisticAt('agreement.median_dB')!, 60));
});
