import assert from 'node:assert/strict';
import { test } from 'node:test';
import { loudnessOf_sone, partialLoudness_sone, type Component } from './partial-loudness.js';

const tone = (frequency_Hz: number, level_dB: number): Component => ({ frequency_Hz, level_dB });
const close = (value: number, expected: number, tolerance: number) =>
  assert.ok(Math.abs(value - expected) <= tolerance, `${value}, expected ${expected}`);

test('ISO 532-2:2017, Table 5: loudness of a 1 kHz tone in the free field, both ears', () => {
  for (const [level, sone, halfDigit] of [
    [20, 0.146, 0.0005],
    [30, 0.43, 0.005],
    [40, 1.0, 0.005],
    [50, 2.09, 0.005],
    [60, 4.14, 0.005],
    [70, 8.04, 0.005],
    [80, 15.8, 0.05],
  ] as const) {
    close(loudnessOf_sone([tone(1000, level)]), sone, halfDigit);
  }
});

test('ISO 532-2, Annex B: 100 Hz at 50 dB, and harmonics of 100 Hz to 1 kHz at 30 dB each', () => {
  close(loudnessOf_sone([tone(100, 50)]), 0.351, 0.005);
  close(loudnessOf_sone(Array.from({ length: 10 }, (_, i) => tone(100 * (i + 1), 30))), 2.0, 0.02);
  close(loudnessOf_sone([tone(1500, 60), tone(1600, 60), tone(1700, 60)]), 6.31, 0.05);
  close(loudnessOf_sone([tone(1000, 60), tone(1600, 60), tone(2400, 60)]), 12.49, 0.1);
});

const bass = Array.from({ length: 8 }, (_, i) => tone(41.2034 * (i + 1), 75 - 6 * Math.log2(i + 1)));
const kick = (level: number) => [tone(55, level), tone(110, level - 20)];

test('beside nothing the partial loudness is the loudness', () => {
  assert.equal(partialLoudness_sone(bass, []), loudnessOf_sone(bass));
});

test('a bass keeps less and less beside a rising kick (values of this project)', () => {
  close(loudnessOf_sone(bass), 6.58, 0.07);
  let before = loudnessOf_sone(bass);
  for (const [level, sone] of [
    [60, 6.177],
    [70, 5.693],
    [75, 5.29],
    [80, 4.887],
    [90, 3.822],
  ] as const) {
    const partial = partialLoudness_sone(bass, kick(level));
    assert.ok(partial < before);
    close(partial, sone, 0.1);
    before = partial;
  }
});
