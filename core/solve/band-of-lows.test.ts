import assert from 'node:assert/strict';
import { test } from 'node:test';
import { HitSpectra } from '../measure/hit-spectra.js';
import { renderStage } from '../render/render-stage.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { makeRoom } from '../treatment/make-room.js';
import { defaultInstance } from '../treatment/stage.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { SeededRandom } from '../units/seeded-random.js';
import { bandOfLows, impulseFor } from './band-of-lows.js';

const CUT_DB = 6;

/** y = x + (g - 1) B(x), the stage as it runs with a constant cut. */
function bandOf(signal: StereoSignal, frequency_Hz: number, width_oct: number): StereoSignal {
  const settings = { ...defaultInstance(makeRoom).settings, way: 'static', cut_dB: CUT_DB, frequency_Hz, width_oct };
  const instance = { stage: 'make-room', on: true, settings, figures: {} } as const;
  const context = { sampleRate_Hz: signal.sampleRate_Hz, notes: [], hits: [] };
  const { left, right } = renderStage(instance, { signal, firstSongSample: 0 }, context).signal;
  const scale = 1 / (dB_to_amplitude(-CUT_DB) - 1);
  const channel = (x: ArrayLike<number>, y: ArrayLike<number>) => Float64Array.from(x, (v, n) => scale * (y[n]! - v));
  return { left: channel(signal.left, left), right: channel(signal.right, right), sampleRate_Hz: signal.sampleRate_Hz };
}

test('the band of the lows, folded from one impulse, has the hit spectra of the band filtered in full', () => {
  const random = new SeededRandom(5);
  for (const [rate, frequency_Hz, width_oct] of [
    [48_000, 53, 1],
    [44_100, 30, 0.5],
    [48_000, 200, 3],
  ] as const) {
    const noise = () => Float64Array.from({ length: 2 * rate }, () => random.between(-0.5, 0.5));
    const sound: StereoSignal = { left: noise(), right: noise(), sampleRate_Hz: rate };
    const { signal, impulseAt } = impulseFor(rate, 0.5);
    const samples = bandOf(signal, frequency_Hz, width_oct).left;
    const folded = bandOfLows(sound, { samples, sampleRate_Hz: rate, impulseAt }, [{ from_s: 0.88, to_s: 1.07 }]);
    const filtered = bandOf(sound, frequency_Hz, width_oct);
    const spectra = new HitSpectra(rate);
    const powers = (of: StereoSignal) => spectra.bandPowers(spectra.of(of, 0.9));
    const own = powers(folded);
    const largest = Math.max(...powers(filtered));
    powers(filtered).forEach((power, b) => {
      // to a ten-thousandth of the band that matters most: 0.0004 dB there
      assert.ok(Math.abs(own[b]! - power) < 1e-4 * largest, `${frequency_Hz} Hz, band ${b}: ${own[b]!} for ${power}`);
    });
  }
});
