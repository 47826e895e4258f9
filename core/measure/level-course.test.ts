import assert from 'node:assert/strict';
import { test } from 'node:test';
import { levelCourse } from './level-course.js';

const RATE = 48_000;

/** A sine of full scale from 0.5 s to 1 s of 1.5 s; its mean square is 1/2 (-3.01 dB). */
const burst = Float32Array.from({ length: 1.5 * RATE }, (_, n) =>
  n >= 0.5 * RATE && n < RATE ? Math.sin((2 * Math.PI * 100 * n) / RATE) : 0,
);

test('the course is the mean square of every 50 ms: a full-scale sine stands at -3.01 dBFS, silence at the floor', () => {
  const { level_dBFS, step_s } = levelCourse('a.wav', { left: burst, right: burst, sampleRate_Hz: RATE });
  assert.equal(step_s, 0.05);
  assert.equal(level_dBFS.length, 30);
  level_dBFS.forEach((level, n) => {
    const expected = n >= 10 && n < 20 ? -3.0103 : -90;
    assert.ok(Math.abs(level - expected) < 1e-3, `step ${n}: ${level}`);
  });
});

test('a sound in one channel alone counts half: 3.01 dB less', () => {
  const silent = new Float32Array(burst.length);
  const { level_dBFS } = levelCourse('a.wav', { left: burst, right: silent, sampleRate_Hz: RATE });
  assert.ok(Math.abs(level_dBFS[12]! - -6.0206) < 1e-3);
});
