import assert from 'node:assert/strict';
import { test } from 'node:test';
import { amplitude_to_dB, dB_to_amplitude, dB_to_power, power_to_dB } from './decibels.js';

test('decibels of power and of amplitude are two things', () => {
  // handbook values: doubling is 3.0103 dB of power, 6.0206 dB of amplitude
  assert.ok(Math.abs(power_to_dB(2) - 3.010299956639812) < 1e-14);
  assert.ok(Math.abs(amplitude_to_dB(2) - 6.020599913279624) < 1e-14);
  assert.ok(Math.abs(power_to_dB(0.001) + 30) < 1e-13);
  assert.ok(Math.abs(amplitude_to_dB(0.001) + 60) < 1e-13);
  assert.equal(power_to_dB(1), 0);
  assert.equal(amplitude_to_dB(1), 0);
});

test('a full-scale sine has a mean square of -3.0103 dB', () => {
  assert.ok(Math.abs(power_to_dB(0.5) + 3.0103) < 1e-5);
});

test('there and back', () => {
  for (let level_dB = -120; level_dB <= 24; level_dB += 0.7) {
    assert.ok(Math.abs(power_to_dB(dB_to_power(level_dB)) - level_dB) < 1e-12);
    assert.ok(Math.abs(amplitude_to_dB(dB_to_amplitude(level_dB)) - level_dB) < 1e-12);
    assert.ok(
      Math.abs(dB_to_amplitude(level_dB) - Math.pow(10, level_dB / 20)) < 1e-14 * Math.pow(10, level_dB / 20) * 3,
    );
  }
});

test('nothing is minus infinity', () => {
  assert.equal(power_to_dB(0), -Infinity);
  assert.equal(amplitude_to_dB(0), -Infinity);
});
