import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SeededRandom } from '../units/seeded-random.js';
import { predictionError } from './prediction-error.js';

// A two-pole recursion x[n] = e[n] + 2 r cos(w) x[n - 1] - r^2 x[n - 2] is undone by its own predictor (Makhoul 1975).
test('the predictor of a two-pole process gives back the noise that drives it', () => {
  const random = new SeededRandom(4);
  const noise = Float64Array.from({ length: 40_000 }, () => random.normal());
  const line = new Float64Array(noise.length);
  const r = 0.97;
  const w = 0.2;
  for (let n = 0; n < line.length; n++) {
    line[n] = noise[n]! + 2 * r * Math.cos(w) * (line[n - 1] ?? 0) - r * r * (line[n - 2] ?? 0);
  }
  const error = predictionError(line, 2, 0);
  let off = 0;
  for (let n = 0; n < error.length; n++) off += (error[n]! - noise[n]!) ** 2;
  assert.ok(Math.sqrt(off / error.length) < 0.03, `${Math.sqrt(off / error.length)} of noise 1`);
});

test('a tone is carved out and silence stays silent', () => {
  const tone = Float64Array.from({ length: 8000 }, (_, n) => Math.sin(0.05 * n));
  const error = predictionError(tone, 8, 1e-6);
  assert.ok(error.subarray(100).every((value) => Math.abs(value) < 0.01));
  assert.ok(predictionError(new Float64Array(50), 8, 1e-6).every((value) => value === 0));
});
