import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { ProofRow, Verdict } from '../../../core/proof/compare-measurements.js';
import { defaultTreatment } from '../../../core/treatment/paths.js';
import type { Treatment } from '../../../core/treatment/treatment.js';
import { figure, unmeasurable } from '../../../core/units/reading.js';
import { statisticAt } from '../../../core/wishes/statistics.js';
import { ledgerOf } from './ledger-rows.js';

const PLAIN = defaultTreatment({
  sampleRate_Hz: 48000,
  notes: [],
  hits: [],
  files: { kick: ['k'], bass: ['b'], rest: [] },
});

function row(address: string, before: number, after: number, verdict: Verdict): ProofRow {
  const statistic = statisticAt(address)!;
  return { statistic, before: figure(before), after: figure(after), change: after - before, verdict };
}

test('gains and losses are positive numbers in the unit that is shown', () => {
  const ledger = ledgerOf(
    [row('clearance.share2dB', 0.66, 0.92, 'better'), row('centre.foldDownLoss_dB', 1.8, 0.2, 'better')],
    PLAIN,
  );
  assert.deepEqual(
    ledger.gained.map(({ amount }) => amount),
    ['26\u00a0%', '1.6\u00a0dB'],
  );
  assert.deepEqual(ledger.lost, []);
});

test('harm stands first among the losses, and a loss within its tolerance is not left out', () => {
  const rows = [row('agreement.median_dB', 0.4, 0, 'worse-within'), row('headroom.cost_dB', 2, 4, 'harm')];
  const { lost } = ledgerOf(rows, PLAIN);
  assert.deepEqual(
    lost.map(({ what, harm }) => [what, harm]),
    [
      ['The lows cost more peak level', true],
      ['Kick and bass add up less', false],
    ],
  );
});

test('what cannot be compared is said with its reason', () => {
  const statistic = statisticAt('carry.laptop_LU')!;
  const open: ProofRow = {
    statistic,
    before: unmeasurable('no bass'),
    after: figure(1),
    change: null,
    verdict: 'not-compared',
  };
  assert.deepEqual(ledgerOf([open], PLAIN).open, [{ what: statistic.name, amount: 'source: no bass', harm: false }]);
});

test('what make room takes from the bass is a loss, whatever the measures say', () => {
  const stages = PLAIN.bass.stages.map((stage) =>
    stage.stage === 'make-room' ? { ...stage, on: true, figures: { cutPerHit_dB: [0, 1.5, 2.4] } } : stage,
  );
  const treatment: Treatment = { ...PLAIN, bass: { ...PLAIN.bass, stages } };
  const { lost } = ledgerOf([], treatment);
  assert.deepEqual(lost, [
    { what: 'The bass steps aside at 2\u00a0hits, around 55\u00a0Hz', amount: 'up to 2.4\u00a0dB', harm: false },
  ]);
});
