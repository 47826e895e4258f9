import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { resampled, resampledChannel } from './resampler.js';

/**
 * All tones are multiples of 10 Hz, so that a tenth of a second holds whole cycles at every rate here: the projection is then exact
 * without a window, and what is left beside the tone is everything the conversion added.
 */
const SEGMENT_S = 0.1;

/** Gain of the tone, its error in phase, and the level of all the rest, by direct projection in the middle of 0.3 s. */
function conversionOf(frequency_Hz: number, from_Hz: number, to_Hz: number) {
  const input = Float64Array.from({ length: 0.3 * from_Hz }, (_, n) =>
    Math.sin(2 * Math.PI * ((frequency_Hz * n) / from_Hz) + 1),
  );
  const output = resampledChannel(input, from_Hz, to_Hz);
  assert.equal(output.length, 0.3 * to_Hz);
  const start = SEGMENT_S * to_Hz;
  const count = SEGMENT_S * to_Hz;
  let along = 0;
  let across = 0;
  let energy = 0;
  for (let n = start; n < start + count; n++) {
    const angle = 2 * Math.PI * ((frequency_Hz * n) / to_Hz) + 1;
    along += (2 / count) * output[n]! * Math.sin(angle);
    across += (2 / count) * output[n]! * Math.cos(angle);
    energy += (2 / count) * output[n]! ** 2;
  }
  return {
    gain_dB: 20 * Math.log10(Math.hypot(along, across)),
    phase_rad: Math.atan2(across, along),
    total_dB: 10 * Math.log10(energy),
    rest_dB: 10 * Math.log10(Math.max(1e-30, energy - along ** 2 - across ** 2)),
  };
}

function tones(low_Hz: number, high_Hz: number, count: number): number[] {
  return Array.from(
    { length: count },
    (_, i) => 10 * Math.round((low_Hz + ((high_Hz - low_Hz) * i) / (count - 1)) / 10),
  );
}

const pairs = [
  [44_100, 48_000],
  [48_000, 44_100],
  [96_000, 48_000],
  [48_000, 96_000],
  [88_200, 48_000],
  [44_100, 96_000],
] as const;

for (const [from_Hz, to_Hz] of pairs) {
  const lower_Hz = Math.min(from_Hz, to_Hz);

  test(`${from_Hz} to ${to_Hz} Hz: level within 0.01 dB and phase 0 up to 0.45 of the lower rate`, () => {
    for (const frequency_Hz of [20, 40, 60, 100, 1000, ...tones(2000, 0.45 * lower_Hz - 5, 12)]) {
      const { gain_dB, phase_rad, rest_dB } = conversionOf(frequency_Hz, from_Hz, to_Hz);
      assert.ok(Math.abs(gain_dB) <= 0.01, `${frequency_Hz} Hz: ${gain_dB} dB`);
      assert.ok(Math.abs(phase_rad) < 1e-5, `${frequency_Hz} Hz: ${phase_rad} rad`);
      assert.ok(rest_dB <= -110, `${frequency_Hz} Hz: images at ${rest_dB} dB`);
    }
  });

  test(`${from_Hz} to ${to_Hz} Hz: images and aliases at most -110 dB from 0.5 of the lower rate up`, () => {
    for (const frequency_Hz of tones(0.45 * lower_Hz, 0.5 * lower_Hz - 10, 5)) {
      const { rest_dB } = conversionOf(frequency_Hz, from_Hz, to_Hz);
      assert.ok(rest_dB <= -110, `${frequency_Hz} Hz: image at ${rest_dB} dB`);
    }
    if (from_Hz === lower_Hz) return;
    for (const frequency_Hz of tones(0.5 * lower_Hz, 0.5 * from_Hz - 10, 16)) {
      const { total_dB } = conversionOf(frequency_Hz, from_Hz, to_Hz);
      assert.ok(total_dB <= -110, `${frequency_Hz} Hz: alias at ${total_dB} dB`);
    }
  });
}

test('DC passes exactly, an impulse stays at its time, the length keeps the duration', () => {
  const dc = resampledChannel(new Float32Array(4410).fill(0.25), 44_100, 48_000);
  assert.equal(dc.length, 4800);
  for (let n = 500; n < 4300; n++) assert.ok(Math.abs(dc[n]! - 0.25) < 1e-15, `${n}: ${dc[n]}`);
  const impulse = new Float64Array(4410);
  impulse[2205] = 1;
  const answer = resampledChannel(impulse, 44_100, 48_000);
  assert.equal(answer.indexOf(Math.max(...answer)), 2400);
  for (let k = 1; k < 200; k++) assert.ok(Math.abs(answer[2400 + k]! - answer[2400 - k]!) < 1e-12);
  assert.equal(resampledChannel(new Float64Array(1), 44_100, 48_000).length, 2);
  assert.equal(resampledChannel(new Float64Array(0), 44_100, 48_000).length, 0);
});

test('rates of no small ratio are converted too', () => {
  const input = Float64Array.from({ length: 8000 }, (_, n) => Math.sin((2 * Math.PI * 100 * n) / 44_100));
  const output = resampledChannel(input, 44_100, 47_999);
  for (let n = 1000; n < 7000; n++) {
    assert.ok(Math.abs(output[n]! - Math.sin((2 * Math.PI * 100 * n) / 47_999)) < 1e-5);
  }
});

test('equal rates give the signal itself, mono stays one array, a rate that is not whole is refused', () => {
  const signal = monoSignal(new Float32Array(100), 48_000);
  assert.equal(resampled(signal, 48_000), signal);
  const other = resampled(signal, 44_100);
  assert.equal(other.left, other.right);
  assert.equal(other.sampleRate_Hz, 44_100);
  assert.throws(() => resampled(signal, 44_100.5), RangeError);
  assert.throws(() => resampled(signal, 0), RangeError);
});
