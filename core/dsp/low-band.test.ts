import assert from 'node:assert/strict';
import { test } from 'node:test';
import { LowBand } from './low-band.js';

const sine = (frequency_Hz: number, sampleRate_Hz: number, count: number, phase_rad = 0) =>
  Float64Array.from({ length: count }, (_, n) =>
    Math.sin((2 * Math.PI * frequency_Hz * n) / sampleRate_Hz + phase_rad),
  );

/** The middle half, where no edge reaches. */
const middle = (samples: ArrayLike<number>) =>
  Array.from(samples).slice(Math.floor(samples.length / 4), Math.floor((samples.length * 3) / 4));

// one step and two, prime and composite factors
const bands: readonly (readonly [from_Hz: number, atLeast_Hz: number, cleanTo_Hz: number, to_Hz: number])[] = [
  [48_000, 8000, 3200, 8000],
  [44_100, 8000, 3528, 8820],
  [96_000, 8000, 3200, 8000],
  [48_000, 4000, 605, 4000],
  [44_100, 4000, 605, 44_100 / 11],
  [192_000, 2000, 160, 2000],
];

for (const [from_Hz, atLeast_Hz, cleanTo_Hz, to_Hz] of bands) {
  const band = new LowBand(from_Hz, atLeast_Hz, cleanTo_Hz);
  const count = Math.round(from_Hz * 0.6);

  test(`${from_Hz} to ${to_Hz} Hz: tones to ${cleanTo_Hz} Hz pass, in time, within 0.001 dB`, () => {
    for (const share of [0.005, 0.02, 0.1, 0.5, 0.9, 1]) {
      const reduced = band.ofChannel(sine(share * cleanTo_Hz, from_Hz, count, 0.3));
      assert.equal(band.rate_Hz, to_Hz);
      const expected = sine(share * cleanTo_Hz, to_Hz, reduced.length, 0.3);
      const error = middle(reduced.map((value, n) => value - expected[n]!)).map(Math.abs);
      // 0.001 dB of amplitude 1 is 1.15e-4, gain and delay taken together
      assert.ok(Math.max(...error) < 1.15e-4, `${share * cleanTo_Hz} Hz: ${Math.max(...error)}`);
    }
  });

  test(`${from_Hz} to ${to_Hz} Hz: tones that would fold into what is kept clean are gone by 95 dB`, () => {
    for (const multiple of [1, 2, 3, 5]) {
      for (const offset of [-1, -0.3, 0.05, 1]) {
        const frequency_Hz = multiple * to_Hz + offset * cleanTo_Hz;
        if (frequency_Hz > from_Hz / 2) continue;
        const left = Math.max(...middle(band.ofChannel(sine(frequency_Hz, from_Hz, count, 0.3))).map(Math.abs));
        assert.ok(left < 10 ** (-95 / 20), `${frequency_Hz} Hz: ${20 * Math.log10(left)} dB`);
      }
    }
  });
}

test('a click stays where it is, near the ends too, and the mean stays', () => {
  const band = new LowBand(48_000, 4000, 605);
  for (const at of [0, 12 * 700, 12 * 1999]) {
    const click = new Float32Array(24_000);
    click[at] = 1;
    const low = band.ofChannel(click);
    const loudest = low.reduce((best, value, n) => (Math.abs(value) > Math.abs(low[best]!) ? n : best), 0);
    assert.equal(loudest, at / 12);
  }
  for (const value of middle(band.ofChannel(new Float64Array(48_000).fill(0.5)))) {
    assert.ok(Math.abs(value - 0.5) < 1e-12);
  }
});

test('blocks do not show: a channel is the sum of its parts', () => {
  const band = new LowBand(48_000, 8000, 3200);
  const noise = Float64Array.from({ length: 20_000 }, (_, n) => Math.sin(n * n * 0.37));
  const first = noise.map((value, n) => (n < 9001 ? value : 0));
  const rest = noise.map((value, n) => (n < 9001 ? 0 : value));
  const parts = [band.ofChannel(first), band.ofChannel(rest)];
  band.ofChannel(noise).forEach((value, n) => assert.ok(Math.abs(value - parts[0]![n]! - parts[1]![n]!) < 1e-12));
});

test('a rate that is low already is not touched; an impossible band is refused', () => {
  const low = new LowBand(4000, 4000, 605);
  assert.deepEqual(low.ofChannel(new Float32Array([1, 2, 3])), new Float64Array([1, 2, 3]));
  assert.throws(() => new LowBand(48_000, 4000, 2000), RangeError);
});
