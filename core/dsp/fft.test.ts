import assert from 'node:assert/strict';
import { test } from 'node:test';
import { ComplexFft, RealFft } from './fft.js';
import { SeededRandom } from '../units/seeded-random.js';

/** The definition, summed directly: shares no code with the transform. */
function directBin(x: Float64Array, k: number): { re: number; im: number } {
  let re = 0;
  let im = 0;
  x.forEach((value, n) => {
    const angle = (-2 * Math.PI * ((k * n) % x.length)) / x.length;
    re += value * Math.cos(angle);
    im += value * Math.sin(angle);
  });
  return { re, im };
}

for (const size of [2, 4, 8, 16, 32, 128, 512, 2048]) {
  test(`real transform of ${size} equals the definition and comes back`, () => {
    const random = new SeededRandom(size);
    const x = Float64Array.from({ length: size }, () => random.between(-1, 1));
    const fft = new RealFft(size);
    const re = new Float64Array(fft.binCount);
    const im = new Float64Array(fft.binCount);
    fft.forward(x, re, im);
    for (let k = 0; k < fft.binCount; k++) {
      const expected = directBin(x, k);
      assert.ok(Math.abs(re[k]! - expected.re) < 1e-12 * size, `re ${k}: ${re[k]} ${expected.re}`);
      assert.ok(Math.abs(im[k]! - expected.im) < 1e-12 * size, `im ${k}: ${im[k]} ${expected.im}`);
    }
    const back = new Float64Array(size);
    fft.inverse(re, im, back);
    for (let n = 0; n < size; n++) assert.ok(Math.abs(back[n]! - x[n]!) < 1e-13, `sample ${n}`);
  });
}

test('complex transform inverts, and a shifted impulse is a turning line', () => {
  const fft = new ComplexFft(64);
  const re = new Float64Array(64);
  const im = new Float64Array(64);
  re[3] = 1;
  fft.forward(re, im);
  for (let k = 0; k < 64; k++) {
    assert.ok(Math.abs(re[k]! - Math.cos((2 * Math.PI * 3 * k) / 64)) < 1e-14);
    assert.ok(Math.abs(im[k]! + Math.sin((2 * Math.PI * 3 * k) / 64)) < 1e-14);
  }
  fft.inverse(re, im);
  assert.ok(Math.abs(re[3]! - 1) < 1e-14);
  assert.ok(Math.abs(re[4]!) < 1e-14);
});

test('a size that is no power of two is refused', () => {
  assert.throws(() => new ComplexFft(48), RangeError);
});
