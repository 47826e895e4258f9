import assert from 'node:assert/strict';
import { test } from 'node:test';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import { SeededRandom } from '../units/seeded-random.js';
import { allPassCorners_Hz } from './all-pass-chain.js';
import { FadingBiquads } from './fading-biquads.js';
import { FractionalDelay } from './fractional-delay.js';
import { LinkwitzRiley } from './linkwitz-riley.js';
import { TICK, type StereoUnit } from './stereo-unit.js';

const sampleRate_Hz = 48_000;

describeStereoUnit('FractionalDelay', () => {
  const delay = new FractionalDelay(100);
  delay.setShift(10.37, -1, true);
  return delay;
});
describeStereoUnit('LinkwitzRiley', () => new LinkwitzRiley(sampleRate_Hz, 300));
describeStereoUnit('FadingBiquads', () => {
  const filter = new FadingBiquads(sampleRate_Hz, 2);
  filter.spare.setHighPass(0, 20, Math.SQRT1_2);
  filter.commit(true);
  return filter;
});

function run(unit: StereoUnit, input: Float64Array, tick?: (t: number) => void): Float64Array {
  const left = input.slice();
  const right = input.slice();
  for (let t = 0; t < input.length; t += TICK) {
    tick?.(t / TICK);
    unit.process(left.subarray(t, t + TICK), right.subarray(t, t + TICK), TICK);
    unit.flush();
  }
  assert.deepEqual(left, right, 'both channels get the same');
  return left;
}

const impulse = (count = 1 << 16) => Float64Array.from({ length: count }, (_, n) => (n === 0 ? 1 : 0));

// One DFT bin of an impulse response, summed directly.
function responseAt(response: Float64Array, frequency_Hz: number): { level_dB: number; phase_rad: number } {
  let re = 0;
  let im = 0;
  response.forEach((value, n) => {
    const angle = (2 * Math.PI * frequency_Hz * n) / sampleRate_Hz;
    re += value * Math.cos(angle);
    im -= value * Math.sin(angle);
  });
  return { level_dB: 20 * Math.log10(Math.hypot(re, im)), phase_rad: Math.atan2(im, re) };
}

// A sine may be written at any time: what a perfect delay by 10.37 samples gives.
test('a delay of 10.37 samples nulls against the exact one: under -94 dB to 16 kHz', () => {
  for (const [frequency_Hz, limit_dB] of [
    [50, -94],
    [1000, -94],
    [10_000, -94],
    [16_000, -94],
  ] as const) {
    const omega = (2 * Math.PI * frequency_Hz) / sampleRate_Hz;
    const delay = new FractionalDelay(100);
    delay.setShift(10.37, 1, true);
    const output = run(
      delay,
      Float64Array.from({ length: 64 * TICK }, (_, n) => Math.sin(omega * n)),
    );
    let error = 0;
    for (let n = 1000; n < output.length; n++) {
      error = Math.max(error, Math.abs(output[n]! - Math.sin(omega * (n - delay.latencySamples - 10.37))));
    }
    assert.ok(20 * Math.log10(error) < limit_dB, `${frequency_Hz} Hz: ${20 * Math.log10(error)} dB`);
  }
});

test('whole shifts, ahead and late, and inverted polarity are exact to the bit', () => {
  const random = new SeededRandom(4);
  const input = Float64Array.from({ length: 20 * TICK }, () => random.between(-1, 1));
  for (const shift of [-100, -3, 0, 7, 100]) {
    const delay = new FractionalDelay(100);
    delay.setShift(shift, -1, true);
    const output = run(delay, input);
    const late = delay.latencySamples + shift;
    output.forEach((value, n) =>
      assert.ok(value === (n < late ? 0 : -input[n - late]!) || (value === 0 && n < late), `${n}`),
    );
  }
});

// Linkwitz 1976: each side a Butterworth filter of second order, squared; sum an all-pass. Slopes at bilinear-warped frequencies.
test('LR4: slopes, -6.02 dB at the corner, sides in phase, sum flat within 1e-10 dB', () => {
  for (const corner_Hz of [100, 300, 700]) {
    const unit = new LinkwitzRiley(sampleRate_Hz, corner_Hz);
    const left = impulse();
    const right = impulse();
    const low = new Float64Array(left.length);
    for (let t = 0; t < left.length; t += TICK) {
      unit.process(left.subarray(t, t + TICK), right.subarray(t, t + TICK), TICK);
      low.set(unit.lowLeft, t);
    }
    const high = left.map((value, n) => value - low[n]!);
    const warp = (hz: number) => Math.tan((Math.PI * hz) / sampleRate_Hz);
    for (const factor of [0.25, 0.5, 1, 2, 4]) {
      const f = corner_Hz * factor;
      const ratio = warp(f) / warp(corner_Hz);
      const lowAt = responseAt(low, f);
      const highAt = responseAt(high, f);
      assert.ok(Math.abs(lowAt.level_dB + 20 * Math.log10(1 + ratio ** 4)) < 1e-6, `low ${f}`);
      assert.ok(Math.abs(highAt.level_dB + 20 * Math.log10(1 + ratio ** -4)) < 1e-6, `high ${f}`);
      assert.ok(Math.abs(responseAt(left, f).level_dB) < 1e-10, `sum ${f}: ${responseAt(left, f).level_dB}`);
      const apart = Math.abs(lowAt.phase_rad - highAt.phase_rad) / (2 * Math.PI);
      assert.ok(Math.abs(apart - Math.round(apart)) < 1e-6, `phase ${f}`);
    }
    assert.ok(Math.abs(responseAt(low, corner_Hz).level_dB + 6.0206) < 1e-4);
  }
});

test('LR4 at 300 Hz turns the bass as tabled; 1.5005 ms at 0 Hz (2 sqrt 2 / (2 pi fc))', () => {
  const response = run(new LinkwitzRiley(sampleRate_Hz, 300), impulse());
  for (const [f, degrees] of [
    [41.2, -22.4],
    [55, -30],
    [110, -61.9],
  ] as const) {
    const got = (responseAt(response, f).phase_rad * 180) / Math.PI;
    assert.ok(Math.abs(got - degrees) < 0.06, `${f} Hz: ${got}`);
  }
  const delay_ms = (-1000 * responseAt(response, 1).phase_rad) / (2 * Math.PI);
  assert.ok(
    Math.abs(delay_ms - (1000 * 2 * Math.SQRT2) / (2 * Math.PI * 300)) < 5e-4,
    `${delay_ms} ms` /* the corner is exact, 0 Hz is warped a little */,
  );
});

test('a changed filter and a changed shift fade without a step', () => {
  const tone = Float64Array.from({ length: 80 * TICK }, (_, n) => Math.sin((2 * Math.PI * 50 * n) / sampleRate_Hz));
  const split = new LinkwitzRiley(sampleRate_Hz, 300);
  const turned = run(split, tone, (t) => t === 30 && split.setCorner(150, false));
  const delay = new FractionalDelay(100);
  const moved = run(delay, tone, (t) => t === 30 && delay.setShift(55.5, 1, false));
  for (const output of [turned, moved]) {
    let bend = 0;
    for (let n = 10 * TICK; n < output.length; n++) {
      bend = Math.max(bend, Math.abs(output[n]! - 2 * output[n - 1]! + output[n - 2]!));
    }
    // The tone itself bends by (2 pi 50 / fs)^2 = 4.3e-5; a step of a tenth of it all would bend by 0.1.
    assert.ok(bend < 2e-4, `${bend}`);
  }
});

test('corners of the twelve all-passes: 750 to 9000 Hz in geometric steps', () => {
  const tabled = [750, 940.09, 1178.35, 1477.01, 1851.36, 2320.59, 2908.74, 3645.97, 4570.04, 5728.33, 7180.18, 9000];
  allPassCorners_Hz(48_000).forEach((corner_Hz, i) =>
    assert.ok(Math.abs(corner_Hz - tabled[i]!) < 0.006, `${corner_Hz}`),
  );
});
