import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { valueOf } from '../units/reading.js';
import { SeededRandom } from '../units/seeded-random.js';
import { annexTwoPeak_FS } from './annex-two-peak.js';
import { truePeak_dBTP, truePeak_FS } from './true-peak.js';

/** EBU Tech 3341:2023, Table 1, cases 15 to 19: a tone of fs / divisor, phase in degrees, 10 ms fades. */
const RATE = 48000;
function steady(divisor: number, peak: number, phase: number): Float64Array {
  const count = RATE / 2;
  return Float64Array.from({ length: count }, (_, n) => {
    const fade = Math.min(1, n / 480, (count - 1 - n) / 480);
    return peak * fade * Math.sin((2 * Math.PI * n) / divisor + (phase * Math.PI) / 180);
  });
}

/**
 * Cases 20 to 23: fs/6 at 0.50 with one phase-continuous period of fs/4 at 1.00, made at 4 fs, low-passed (windowed sinc) and
 * decimated with an offset of 0 to 3.
 */
function burst(offset: number): Float64Array {
  const before = 4 * 6000;
  const high = Float64Array.from({ length: 2 * before + 16 }, (_, n) => {
    const inside = n >= before && n < before + 16;
    if (inside) return Math.sin((2 * Math.PI * (n - before)) / 16);
    const from = n < before ? n - before : n - before - 16;
    return 0.5 * Math.sin((2 * Math.PI * from) / 24);
  });
  const half = 128;
  const taps = Float64Array.from({ length: 2 * half + 1 }, (_, i) => {
    const x = (i - half) / 4;
    const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    return (sinc * (0.54 + 0.46 * Math.cos((Math.PI * (i - half)) / half))) / 4;
  });
  const output = new Float64Array(Math.floor(high.length / 4) - 100);
  for (let n = 50; n < output.length; n++) {
    let sum = 0;
    for (let k = -half; k <= half; k++) sum += taps[half + k]! * (high[4 * n + offset + k] ?? 0);
    output[n] = sum;
  }
  return output;
}

const within = (peak: number, expected_dBTP: number, what: string) => {
  const level = 20 * Math.log10(peak);
  assert.ok(
    level <= expected_dBTP + 0.2 && level >= expected_dBTP - 0.4,
    `${what}: ${level}, expected ${expected_dBTP}`,
  );
};

const STEADY = [
  [15, 4, 0.5, 0, -6, -6.22],
  [16, 4, 0.5, 45, -6, -5.98],
  [17, 6, 0.5, 60, -6, -6.31],
  [18, 8, 0.5, 67.5, -6, -6.03],
  [19, 4, 1.41, 45, 3, 3.03],
] as const;

for (const [number, divisor, peak, phase, expected, annexTwo] of STEADY) {
  test(`Tech 3341 case ${number}: ${expected} dBTP +0.2 / -0.4, by both meters`, () => {
    const samples = steady(divisor, peak, phase);
    within(truePeak_FS(samples), expected, 'true peak');
    const annex = 20 * Math.log10(annexTwoPeak_FS(samples));
    assert.ok(Math.abs(annex - annexTwo) < 0.02, `annex 2: ${annex}`);
    within(10 ** (annex / 20), expected, 'annex 2');
  });
}

for (const offset of [0, 1, 2, 3]) {
  test(`Tech 3341 case ${20 + offset}: 0 dBTP +0.2 / -0.4`, () => {
    within(truePeak_FS(burst(offset)), 0, 'true peak');
    within(annexTwoPeak_FS(burst(offset)), 0, 'annex 2');
  });
}

test('a slow low peak reads right, and 0.014 dB high through the filter of Annex 2 (its gain at 0 Hz)', () => {
  const samples = Float64Array.from({ length: RATE / 2 }, (_, n) => 0.5 * Math.sin((2 * Math.PI * 41.2 * n) / RATE));
  assert.ok(Math.abs(20 * Math.log10(truePeak_FS(samples) / 0.5)) < 0.001);
  assert.ok(Math.abs(20 * Math.log10(annexTwoPeak_FS(samples) / 0.5) - 0.014) < 0.002);
});

test('the search around likely samples finds what interpolating everywhere finds', () => {
  const random = new SeededRandom(3);
  for (let trial = 0; trial < 20; trial++) {
    const samples = new Float64Array(600);
    let slow = 0;
    for (let n = 100; n < 500; n++) {
      slow = 0.9 * slow + random.between(-0.3, 0.3);
      samples[n] = slow + (trial / 20) * random.between(-1, 1);
    }
    const found = truePeak_FS(samples);
    // one sample alone is its own peak so far, which the bound always passes: every point is interpolated
    let everywhere = 0;
    for (let n = 0; n < samples.length; n++) {
      everywhere = Math.max(everywhere, truePeak_FS(samples, n, n + 1));
    }
    assert.ok(Math.abs(found - everywhere) < 2e-4 * everywhere, `${found} ${everywhere}`);
    assert.ok(found >= samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0));
  }
});

test('silence has no true peak', () => {
  assert.equal(truePeak_dBTP(monoSignal(new Float64Array(100), RATE)).kind, 'unmeasurable');
  assert.equal(valueOf(truePeak_dBTP(monoSignal(new Float64Array(100).fill(-1, 50, 51), RATE))), 0);
});
