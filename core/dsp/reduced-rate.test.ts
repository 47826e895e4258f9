import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isMono, monoSignal } from '../signal/stereo-signal.js';
import { reducedRate } from './reduced-rate.js';

const sine = (frequency_Hz: number, sampleRate_Hz: number, count: number, phase_rad = 0) =>
  Float64Array.from({ length: count }, (_, n) =>
    Math.sin((2 * Math.PI * frequency_Hz * n) / sampleRate_Hz + phase_rad),
  );

/** The middle half, where no edge reaches. */
const middle = (samples: ArrayLike<number>) =>
  Array.from(samples).slice(Math.floor(samples.length / 4), Math.floor((samples.length * 3) / 4));

const rates: readonly (readonly [from_Hz: number, atLeast_Hz: number, to_Hz: number])[] = [
  [48_000, 2000, 2000],
  [44_100, 2000, 44_100 / 22],
  [96_000, 2000, 2000],
  [48_000, 4000, 4000],
];

for (const [from_Hz, atLeast_Hz, to_Hz] of rates) {
  const count = Math.round(from_Hz * 0.6);

  test(`${from_Hz} to ${to_Hz} Hz: tones to 0.4 of the new rate pass, in time, within 0.001 dB`, () => {
    for (const share of [0.005, 0.02, 0.1, 0.25, 0.35, 0.4]) {
      const frequency_Hz = share * to_Hz;
      const reduced = reducedRate(monoSignal(sine(frequency_Hz, from_Hz, count, 0.3), from_Hz), atLeast_Hz);
      assert.equal(reduced.sampleRate_Hz, to_Hz);
      const expected = sine(frequency_Hz, to_Hz, reduced.left.length, 0.3);
      const error = middle(reduced.left.map((value, n) => value - expected[n]!)).map(Math.abs);
      // 0.001 dB of amplitude 1 is 1.15e-4, gain and delay taken together
      assert.ok(Math.max(...error) < 1.15e-4, `${frequency_Hz} Hz: ${Math.max(...error)}`);
    }
  });

  test(`${from_Hz} to ${to_Hz} Hz: tones from 0.5 of the new rate up are gone by 95 dB`, () => {
    for (const multiple of [0.5, 0.55, 0.7, 0.97, 1.5, 2.03, 3.9]) {
      const reduced = reducedRate(monoSignal(sine(multiple * to_Hz, from_Hz, count, 0.3), from_Hz), atLeast_Hz);
      const left = Math.max(...middle(reduced.left).map(Math.abs));
      assert.ok(left < 10 ** (-95 / 20), `${multiple * to_Hz} Hz: ${20 * Math.log10(left)} dB`);
    }
  });
}

test('a click stays where it is', () => {
  const click = new Float64Array(48_000);
  click[24_000] = 1;
  const { left } = reducedRate(monoSignal(click, 48_000), 2000);
  const loudest = Array.from(left).reduce((best, value, n) => (Math.abs(value) > Math.abs(left[best]!) ? n : best), 0);
  assert.equal(loudest, 1000);
});

test('the mean stays, mono stays mono, and a rate that is low already is not touched', () => {
  const constant = monoSignal(new Float64Array(48_000).fill(0.5), 48_000);
  const reduced = reducedRate(constant, 2000);
  assert.ok(isMono(reduced));
  for (const value of middle(reduced.left)) assert.ok(Math.abs(value - 0.5) < 1e-12);
  assert.equal(reducedRate(constant, 30_000), constant);
  const wide = { ...constant, right: new Float64Array(48_000) };
  assert.ok(reducedRate(wide, 2000).right.every((value) => value === 0));
});
