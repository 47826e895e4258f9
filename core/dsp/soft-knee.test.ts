import assert from 'node:assert/strict';
import { test } from 'node:test';
import { softKneeReduction_dB } from './soft-knee.js';

// Giannoulis, Massberg and Reiss, JAES 60(6), 2012, equation 4: output levels worked out by hand from the printed formula.
const outputs: readonly (readonly [number, number, number, readonly (readonly [number, number])[]])[] = [
  [
    -20,
    4,
    6,
    [
      [-23, -23],
      [-22, -22.0625],
      [-20, -20.5625],
      [-18, -19.5625],
      [-17, -19.25],
      [-10, -17.5],
      [0, -15],
    ],
  ],
  [
    -24,
    10,
    12,
    [
      [-30, -30],
      [-24, -25.35],
      [-18, -23.4],
      [0, -21.6],
    ],
  ],
];

for (const [threshold_dB, ratio, knee_dB, pairs] of outputs) {
  test(`curve of threshold ${threshold_dB}, ratio ${ratio}, knee ${knee_dB}`, () => {
    for (const [input_dB, expected_dB] of pairs) {
      const output_dB = input_dB - softKneeReduction_dB(input_dB, threshold_dB, ratio, knee_dB);
      assert.ok(Math.abs(output_dB - expected_dB) < 1e-12, `${input_dB} -> ${output_dB}, expected ${expected_dB}`);
    }
  });
}

test('value and slope are continuous at both ends of the knee', () => {
  const reduction = (level_dB: number) => softKneeReduction_dB(level_dB, -20, 3, 6);
  for (const edge_dB of [-23, -17]) {
    const step = 1e-6;
    const below = (reduction(edge_dB) - reduction(edge_dB - step)) / step;
    const above = (reduction(edge_dB + step) - reduction(edge_dB)) / step;
    assert.ok(Math.abs(below - above) < 1e-5, `slope ${below} and ${above}`);
  }
});

test('a knee of 0 is a corner, a ratio of 1 does nothing, silence asks for nothing', () => {
  assert.equal(softKneeReduction_dB(-20, -20, 4, 0), 0);
  assert.equal(softKneeReduction_dB(-8, -20, 4, 0), 9);
  assert.equal(softKneeReduction_dB(-8, -20, 1, 6), 0);
  assert.equal(softKneeReduction_dB(-Infinity, -20, 4, 6), 0);
});
