import assert from 'node:assert/strict';
import { test } from 'node:test';
import { bandSideLength, bandTaps, lowPassTaps, writeLowPassSide } from './zero-phase-taps.js';

// Gain of symmetric taps about their centre, summed directly: real, no phase.
function gainAt(taps: Float64Array, frequency_Hz: number, sampleRate_Hz: number): number {
  const centre = (taps.length - 1) / 2;
  return taps.reduce(
    (sum, tap, n) => sum + tap * Math.cos((2 * Math.PI * frequency_Hz * (n - centre)) / sampleRate_Hz),
    0,
  );
}
const dB = (gain: number) => 20 * Math.log10(Math.abs(gain));

// Measured for this project on a prototype with taps by inverse DFT (2^17 points); tolerance 0.02 dB.
const frequencies_Hz = [50, 100, 150, 200, 300, 400, 600, 900, 1200];
const low_dB = [-0.018, -0.148, -0.602, -1.644, -5.958, -12.212, -24.467, -38.2, -48.16];
const high_dB = [-53.9, -35.47, -23.49, -15.27, -6.08, -2.44, -0.54, -0.11, -0.03];

test('split 300 Hz at 48 kHz: 1089 taps, low-pass and high-pass as tabled', () => {
  const taps = lowPassTaps(300, 48_000, 24);
  assert.equal(taps.length, 1089);
  frequencies_Hz.forEach((frequency_Hz, i) => {
    const low = gainAt(taps, frequency_Hz, 48_000);
    assert.ok(Math.abs(dB(low) - low_dB[i]!) < 0.02, `LP ${frequency_Hz}: ${dB(low)}`);
    // The page's figures at 50 Hz and below -20 dB carry one decimal.
    const tolerance = high_dB[i]! < -50 ? 0.06 : 0.02;
    assert.ok(Math.abs(dB(1 - low) - high_dB[i]!) < tolerance, `HP ${frequency_Hz}: ${dB(1 - low)}`);
  });
  assert.ok(Math.abs(gainAt(taps, 0, 48_000) - 1) < 1e-12);
});

test('120 Hz at 48 kHz: 2721 taps', () => {
  assert.equal(lowPassTaps(120, 48_000, 24).length, 2721);
});

// The defining magnitude 1 / (1 + (f/fc)^n); the window rounds it by a little: the worst of each slope was measured.
for (const [slope, tolerance_dB] of [
  [12, 0.35],
  [24, 0.18],
  [48, 1],
] as const) {
  test(`${slope} dB/oct follows 1 / (1 + (f/fc)^n) to -40 dB at every rate`, () => {
    for (const sampleRate_Hz of [44_100, 48_000, 96_000]) {
      const taps = lowPassTaps(200, sampleRate_Hz, slope);
      for (const f of [20, 60, 100, 150, 200, 250, 300, 400, 600]) {
        const expected = -20 * Math.log10(1 + (f / 200) ** (slope / 6));
        if (expected < -40) continue;
        const got = dB(gainAt(taps, f, sampleRate_Hz));
        assert.ok(Math.abs(got - expected) < tolerance_dB, `${f} Hz at ${sampleRate_Hz}: ${got} not ${expected}`);
      }
    }
  });
}

// B(f) = 1 / (1 + (Q (f/f0 - f0/f))^2), Q = sqrt(2^w) / (2^w - 1): gain 1 at f0, 1/2 at the edges of the width.
for (const width_oct of [0.5, 1, 1.5, 2.5, 3]) {
  test(`band of ${width_oct} octaves at 53 Hz follows its formula`, () => {
    const taps = bandTaps(53, width_oct, 48_000);
    const q = Math.sqrt(2 ** width_oct) / (2 ** width_oct - 1);
    assert.ok(Math.abs(gainAt(taps, 53, 48_000) - 1) < 1e-12);
    for (const f of [53 * 2 ** (-width_oct / 2), 53 * 2 ** (width_oct / 2), 20, 40, 70, 110, 300, 1000]) {
      const expected = 1 / (1 + (q * (f / 53 - 53 / f)) ** 2);
      const got = gainAt(taps, f, 48_000);
      // The tail is cut at -80 dB: its remainder was measured: under 9e-4, at 2.5 octaves, where two poles nearly meet.
      assert.ok(Math.abs(got - expected) < 1e-3, `${f} Hz: ${got} not ${expected}`);
    }
  });
}

test('one octave at 53 Hz is 78 ms to each side', () => {
  assert.ok(Math.abs(bandSideLength(53, 1, 48_000) / 48 - 78) < 0.5);
});

test('writing again into the same buffer leaves nothing of the first filter', () => {
  const side = new Float64Array(3000);
  writeLowPassSide(side, 80, 48_000, 24);
  const length = writeLowPassSide(side, 700, 48_000, 24);
  assert.ok(side.subarray(length + 1).every((tap) => tap === 0));
});
