import assert from 'node:assert/strict';
import { test } from 'node:test';
import { bell, highPass, lowShelf, powerResponse } from './biquad.js';
import { butterworthBandPass, butterworthHighPass, butterworthLowPass } from './butterworth.js';

const level_dB = (sections: Parameters<typeof powerResponse>[0], f: number, fs = 48_000) =>
  10 * Math.log10(powerResponse(sections, f, fs));

// Butterworth's own formula, 10 lg(1 + (f/fc)^2N), at bilinear-warped frequencies.
for (const order of [1, 2, 3, 4, 6]) {
  test(`order ${order} falls as the formula says`, () => {
    for (const fs of [44_100, 48_000, 96_000]) {
      for (const f of [25, 50, 100, 200, 400, 5000]) {
        const warp = (hz: number) => Math.tan((Math.PI * hz) / fs);
        const expectedLow = -10 * Math.log10(1 + (warp(f) / warp(100)) ** (2 * order));
        const expectedHigh = -10 * Math.log10(1 + (warp(100) / warp(f)) ** (2 * order));
        assert.ok(Math.abs(level_dB(butterworthLowPass(order, 100, fs), f, fs) - expectedLow) < 1e-6, `lp ${f}`);
        assert.ok(Math.abs(level_dB(butterworthHighPass(order, 100, fs), f, fs) - expectedHigh) < 1e-6, `hp ${f}`);
      }
    }
  });
}

test('band-pass: -3.0103 dB at both corners, flat between, slopes of the formula', () => {
  for (const order of [1, 2, 3, 4]) {
    for (const fs of [4000, 48_000]) {
      const warp = (hz: number) => Math.tan((Math.PI * hz) / fs);
      const w1 = warp(30);
      const w2 = warp(150);
      for (const f of [10, 30, 50, 67, 100, 150, 300, 600]) {
        const w = warp(f);
        const lowPassEquivalent = Math.abs((w * w - w1 * w2) / (w * (w2 - w1)));
        const expected = -10 * Math.log10(1 + lowPassEquivalent ** (2 * order));
        const got = level_dB(butterworthBandPass(order, 30, 150, fs), f, fs);
        assert.ok(Math.abs(got - expected) < 1e-6, `order ${order} fs ${fs} f ${f}: ${got} ${expected}`);
      }
    }
  }
});

// Audio EQ Cookbook (W3C Working Group Note, 8 June 2021); vectors computed independently with SoX 14.4 to 15 digits.
test('cookbook vectors', () => {
  const close = (got: number[], expected: number[]) =>
    got.forEach((value, i) => assert.ok(Math.abs(value - expected[i]!) < 1e-12, `${value} ${expected[i]}`));
  const b = bell(48_000, 80, 1, 6);
  close(
    [b.b0, b.b1, b.b2, b.a1, b.a2],
    [1.00367554216765, -1.99250466647143, 0.988938380589458, -1.99250466647143, 0.992613922757108],
  );
  const s = lowShelf(48_000, 100, 1, 4);
  close(
    [s.b0, s.b1, s.b2, s.a1, s.a2],
    [1.00213820649662, -1.98346199508707, 0.981537735971435, -1.98350147294188, 0.983636464613243],
  );
  const h = highPass(48_000, 30, Math.SQRT1_2);
  close(
    [h.b0, h.b1, h.b2, h.a1, h.a2],
    [0.99722704990447, -1.99445409980894, 0.99722704990447, -1.99444641054193, 0.994461789075954],
  );
  assert.ok(Math.abs(level_dB([b], 40) - 1.8838) < 1e-4);
  assert.ok(Math.abs(level_dB([b], 80) - 6) < 1e-9);
  assert.ok(Math.abs(level_dB([s], 100) - 2) < 1e-4);
  assert.ok(Math.abs(level_dB([h], 20) + 7.8265) < 1e-4);
});
