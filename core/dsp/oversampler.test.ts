import assert from 'node:assert/strict';
import { test } from 'node:test';
import { halfBandGain, halfBandSide } from './half-band.js';
import { Oversampler, OVERSAMPLER_LATENCY } from './oversampler.js';

const TICK = 128;

function thereAndBack(input: Float64Array, factor: 2 | 8): Float64Array {
  const unit = new Oversampler();
  const output = new Float64Array(input.length);
  for (let at = 0; at < input.length; at += TICK) {
    unit.up(input.subarray(at, at + TICK), TICK, factor);
    unit.down(output.subarray(at, at + TICK), TICK, factor);
  }
  return output;
}

// Textbook properties of a half-band filter: gain 1/2 at a quarter of the rate, H(f) + H(1/2 - f) = 1.
test('half-band: complementary, 0.5 at the quarter, flat below and shut above', () => {
  for (const [k, pass] of [
    [23, 20 / 96],
    [6, 20 / 192],
    [4, 20 / 384],
  ] as const) {
    const side = halfBandSide(k);
    assert.ok(Math.abs(halfBandGain(side, 0) - 1) < 1e-12);
    assert.ok(Math.abs(halfBandGain(side, 0.25) - 0.5) < 1e-12);
    for (let f = 0; f <= pass; f += pass / 50) {
      const gain = halfBandGain(side, f);
      assert.ok(Math.abs(gain - 1) < 5e-6, `k ${k}, ${f}: ${gain}`);
      assert.ok(Math.abs(gain + halfBandGain(side, 0.5 - f) - 1) < 1e-12);
    }
  }
});

for (const factor of [2, 8] as const) {
  test(`${factor} times: a linear-phase delay of exactly ${OVERSAMPLER_LATENCY[factor]} samples`, () => {
    const impulse = new Float64Array(4 * TICK);
    impulse[100] = 1;
    const response = thereAndBack(impulse, factor);
    const centre = 100 + OVERSAMPLER_LATENCY[factor];
    for (let k = 1; k <= 60; k++) {
      assert.ok(Math.abs(response[centre + k]! - response[centre - k]!) < 1e-12, `symmetry at ${k}`);
    }
    // Steady sines up to the pass band come back with gain 1.
    for (const f of [50, 1000, 10_000, 19_000]) {
      let re = 0;
      let im = 0;
      response.forEach((value, n) => {
        re += value * Math.cos((2 * Math.PI * f * (n - centre)) / 48_000);
        im += value * Math.sin((2 * Math.PI * f * (n - centre)) / 48_000);
      });
      assert.ok(Math.abs(re - 1) < 2e-5 && Math.abs(im) < 1e-10, `${f} Hz: ${re}, ${im}`);
    }
  });
}
