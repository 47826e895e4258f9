import assert from 'node:assert/strict';
import { test } from 'node:test';
import { equalLoudnessLevel_dB, loudnessLevel_phon, sixtyPhonWeighting_dB } from './equal-loudness.js';

const close = (value: number, expected: number, tolerance: number) =>
  assert.ok(Math.abs(value - expected) <= tolerance, `${value}, expected ${expected}`);

test('ISO 226:2023, Annex B: spot values of both formulas within 0.05', () => {
  for (const [phon, f, level] of [
    [20, 20, 89.5],
    [40, 20, 99.7],
    [40, 63, 73.0],
    [40, 250, 50.3],
    [60, 100, 78.5],
    [60, 500, 62.1],
    [80, 20, 118.9],
    [90, 20, 123.6],
  ] as const) {
    close(equalLoudnessLevel_dB(phon, f), level, 0.051);
  }
  close(loudnessLevel_phon(60, 63), 21.6, 0.051);
  close(loudnessLevel_phon(90, 20), 20.8, 0.051);
  close(loudnessLevel_phon(70, 400), 67.1, 0.051);
});

test('ISO 226:2023: rows from the formula at 40, 60 and 80 phon, 20 Hz to 1 kHz', () => {
  const rows = [
    [20, 99.7, 109.4, 118.9],
    [25, 93.9, 104.2, 114.2],
    [31.5, 88.2, 99.1, 109.7],
    [40, 82.7, 94.2, 105.4],
    [50, 77.8, 89.9, 101.8],
    [63, 73.0, 85.8, 98.3],
    [80, 68.3, 81.9, 95.1],
    [100, 64.2, 78.5, 92.5],
    [125, 60.4, 75.4, 90.1],
    [160, 56.6, 72.4, 87.8],
    [200, 53.3, 69.7, 85.9],
    [250, 50.3, 67.4, 84.3],
    [315, 47.6, 65.4, 82.9],
    [400, 45.1, 63.5, 81.8],
    [500, 43.1, 62.1, 80.9],
    [630, 41.4, 60.8, 80.1],
    [800, 40.0, 59.8, 79.6],
    [1000, 40.0, 60.0, 80.0],
  ] as const;
  for (const [f, ...levels] of rows) {
    levels.forEach((level, i) => close(equalLoudnessLevel_dB(40 + 20 * i, f), level, 0.051));
  }
});

test('the weighting is 0 dB at 1 kHz, runs evenly between rows, and holds the last row outside', () => {
  close(sixtyPhonWeighting_dB(1000), 0, 0.01);
  assert.ok(
    sixtyPhonWeighting_dB(55) < sixtyPhonWeighting_dB(58) && sixtyPhonWeighting_dB(55) > sixtyPhonWeighting_dB(50),
  );
  assert.equal(sixtyPhonWeighting_dB(5), sixtyPhonWeighting_dB(20));
  assert.equal(sixtyPhonWeighting_dB(20000), sixtyPhonWeighting_dB(12500));
  close(loudnessLevel_phon(equalLoudnessLevel_dB(60, 77), 77), 60, 1e-9);
});
