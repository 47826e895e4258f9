import assert from 'node:assert/strict';
import { test } from 'node:test';
import { tradeCurve, type TradeQuestion } from './trade-curve.js';

const QUESTION: TradeQuestion = {
  trials: [
    { amount: 6, result: 0.97 },
    { amount: 1, result: 0.84 },
    { amount: 3, result: 0.92 },
  ],
  chosen: { amount: 3, result: 0.92 },
  now: 0.66,
  wish: { statistic: 'clearance.share2dB', low: 0.9, high: null },
  unit: '%',
  scale: 100,
  amountName: 'cut',
  amountUnit: 'dB',
};

test('every render tried is a hollow mark, the chosen one alone is filled', () => {
  const { drawing } = tradeCurve(QUESTION, 400, 240);
  assert.equal(drawing.strokes.filter(({ fill }) => fill === 'paper').length, 2);
  assert.equal(drawing.strokes.filter(({ fill }) => fill === 'ink').length, 1);
});

test('the wish is a bracket on the scale of results; a drag to where a result lies gives that result', () => {
  const curve = tradeCurve(QUESTION, 400, 240);
  assert.equal(curve.limits.high, null);
  assert.ok(Math.abs(curve.resultAt(curve.limits.low!) - 0.9) < 1e-9);
  assert.ok(curve.resultAt(curve.limits.low! - 10) > 0.9); // upward is more
  assert.ok(curve.drawing.strokes.some(({ ink }) => ink === 'wanted'));
});

test('the figure is a table too: by amount, in the units that are shown', () => {
  assert.deepEqual(tradeCurve(QUESTION, 400, 240).rows, [
    { amount: '1\u00a0dB', result: '84\u00a0%', chosen: false },
    { amount: '3\u00a0dB', result: '92\u00a0%', chosen: true },
    { amount: '6\u00a0dB', result: '97\u00a0%', chosen: false },
  ]);
});

test('all marks lie on the paper, also with a single render or none', () => {
  for (const trials of [QUESTION.trials, QUESTION.trials.slice(0, 1), []]) {
    const { drawing } = tradeCurve({ ...QUESTION, trials, chosen: trials[0] ?? null }, 400, 240);
    for (const { path } of drawing.strokes) assert.ok(!/NaN|Infinity/.test(path));
    for (const { x, y } of drawing.labels) assert.ok(x >= 0 && x <= 400 && y >= 0 && y <= 240);
  }
});
