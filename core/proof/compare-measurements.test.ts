import assert from 'node:assert/strict';
import { test } from 'node:test';
import { measurementsOf } from '../../tests/contracts/measurements-of.js';
import type { ClearanceMeasure } from '../measure/clearance.js';
import type { EvennessMeasure } from '../measure/evenness.js';
import type { Measurements } from '../measure/measurements.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';
import { compareMeasurements, harmOf, type Verdict } from './compare-measurements.js';

function clearance(p10: Reading, share = figure(0.5)): Measurements {
  const measured = { kind: 'measured', p10_dB: p10, median_dB: figure(3), share2dB: share };
  return measurementsOf({ clearance: measured as unknown as ClearanceMeasure });
}

function verdictOf(before: Measurements, after: Measurements, address = 'clearance.p10_dB'): Verdict {
  return compareMeasurements(before, after).find(({ statistic }) => statistic.address === address)!.verdict;
}

/** Tolerance of p10: 0.3 dB, at 6 dB and more no loss is harm, shown to a tenth (docs/decisions.md). */
const cases: readonly (readonly [before: number, after: number, verdict: Verdict])[] = [
  [1, 1.1, 'better'],
  [1, 1.04, 'same'],
  [1, 0.96, 'same'],
  [1, 0.7, 'worse-within'],
  [1, 0.69, 'harm'],
  [9, 6.1, 'worse-within'],
  [9, 5.9, 'harm'],
];

for (const [before, after, verdict] of cases) {
  test(`clearance ${before} dB to ${after} dB: ${verdict}`, () => {
    const rows = compareMeasurements(clearance(figure(before)), clearance(figure(after)));
    const row = rows.find(({ statistic }) => statistic.address === 'clearance.p10_dB')!;
    assert.equal(row.verdict, verdict);
    assert.ok(Math.abs(row.change! - (after - before)) < 1e-12);
    assert.deepEqual(harmOf(rows), verdict === 'harm' ? [row] : []);
  });
}

test('a share is shown to a percent and has no tolerance; a loss of it is never harm', () => {
  const address = 'clearance.share2dB';
  assert.equal(verdictOf(clearance(figure(1), figure(0.5)), clearance(figure(1), figure(0.504)), address), 'same');
  assert.equal(
    verdictOf(clearance(figure(1), figure(0.5)), clearance(figure(1), figure(0.1)), address),
    'worse-within',
  );
});

test('lower is better where it is said so; what is not judged has moved', () => {
  const evenness = (spread: number, asHeard: number) =>
    measurementsOf({
      evenness: {
        kind: 'measured',
        spread_dB: figure(spread),
        asHeard_dB: figure(asHeard),
        pitchDeviation_dB: figure(1),
      } as unknown as EvennessMeasure,
    });
  assert.equal(verdictOf(evenness(6, 5), evenness(5, 5), 'evenness.spread_dB'), 'better');
  assert.equal(verdictOf(evenness(6, 5), evenness(6.6, 5), 'evenness.spread_dB'), 'harm');
  assert.equal(verdictOf(evenness(6, 5), evenness(6, 9), 'evenness.asHeard_dB'), 'moved');
});

test('what could not be measured before or after is not compared', () => {
  const none = clearance(unmeasurable('no hits'));
  const rows = compareMeasurements(none, clearance(figure(2)));
  assert.equal(rows[0]!.verdict, 'not-compared');
  assert.equal(rows[0]!.change, null);
  assert.equal(verdictOf(clearance(figure(2)), none), 'not-compared');
});
