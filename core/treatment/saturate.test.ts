import assert from 'node:assert/strict';
import { test } from 'node:test';
import { RealFft } from '../../core/dsp/fft.js';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import { createStage, level_dB, runStage, stageInstance, type StageSetUp } from '../../tests/contracts/run-stage.js';
import { saturate } from './saturate.js';
import { saturateMakeUp, saturateReference_FS } from './saturate-level.js';

const fs = 48_000;
const N = 1 << 15;

describeStereoUnit('saturate 8x', () => createStage(saturate, { settings: { drive_dB: 12, bias: 0.2 } }));
describeStereoUnit('saturate 2x', () => createStage(saturate, { settings: { drive_dB: 12, oversampling: '2x' } }));

const figures = { reference_FS: 0.5 };

/** A sine of whole periods in N frames, on for twice as long; the second half's spectrum is free of any start. */
function lines(setUp: StageSetUp, periods: number, amplitude = 0.5) {
  const input = Float64Array.from({ length: 2 * N }, (_, n) => amplitude * Math.sin((2 * Math.PI * periods * n) / N));
  const out = runStage(createStage(saturate, { figures, ...setUp }), input).left.subarray(N, 2 * N);
  const re = new Float64Array(N / 2 + 1);
  const im = new Float64Array(N / 2 + 1);
  new RealFft(N).forward(out, re, im);
  const peak_FS = (bin: number) => Math.hypot(re[bin]!, im[bin]!) / (N / 2);
  const harmonic_dB = (k: number) => 20 * Math.log10(peak_FS(k * periods) / peak_FS(periods));
  return { out, input, peak_FS, harmonic_dB, phase: (bin: number) => Math.atan2(im[bin]!, re[bin]!) };
}

// Line spectra by numerical Fourier integration of u / sqrt(1 + u^2) for this project; mean square 1 - 1/sqrt(1 + A^2) in
// closed form.
const rows = [
  [0, -21.7, -39.7, -2.32],
  [6, -15.3, -26.5, -5.57],
  [12, -11.9, -19.4, -10.2],
  [18, -10.4, -16.1, -15.57],
] as const;

for (const oversampling of ['2x', '8x']) {
  test(`${oversampling}: third and fifth harmonic and level follow the closed forms`, () => {
    for (const [drive_dB, third_dB, fifth_dB, change_dB] of rows) {
      const got = lines({ settings: { drive_dB, oversampling } }, 75); // 109.9 Hz
      assert.ok(Math.abs(got.harmonic_dB(3) - third_dB) <= 0.06, `${drive_dB} dB, H3 ${got.harmonic_dB(3)}`);
      assert.ok(Math.abs(got.harmonic_dB(5) - fifth_dB) <= 0.06, `${drive_dB} dB, H5 ${got.harmonic_dB(5)}`);
      const level = level_dB(got.out, 0, N) - level_dB(got.input, N, 2 * N);
      assert.ok(Math.abs(level - change_dB) <= 0.02, `${drive_dB} dB, level ${level}`);
      const amplitude = 10 ** (drive_dB / 20);
      const closed = 10 * Math.log10((1 - 1 / Math.sqrt(1 + amplitude ** 2)) / (amplitude ** 2 / 2));
      assert.ok(Math.abs(level - closed) <= 0.001, `${level}, closed form ${closed}`);
      assert.ok(got.harmonic_dB(2) < -200, 'no even harmonic without bias');
    }
  });
}

test('a bias brings the even harmonics, keeps the phase of the fundamental and makes no DC', () => {
  const table = [
    [0, -21.9, -22.7],
    [6, -17.1, -16.7],
    [12, -15.1, -13.5],
    [18, -14.3, -12],
  ] as const;
  for (const [drive_dB, second_dB, third_dB] of table) {
    const got = lines({ settings: { drive_dB, bias: 0.2 } }, 300); // 439.5 Hz, well over the high-pass
    assert.ok(Math.abs(got.harmonic_dB(2) - second_dB) <= 0.06, `${drive_dB} dB, H2 ${got.harmonic_dB(2)}`);
    assert.ok(Math.abs(got.harmonic_dB(3) - third_dB) <= 0.06, `${drive_dB} dB, H3 ${got.harmonic_dB(3)}`);
    const plain = lines({ settings: { drive_dB, bias: 0 } }, 300);
    assert.ok(Math.abs(got.phase(300) - plain.phase(300)) < 1e-6, 'phase of the fundamental');
    assert.ok(got.peak_FS(0) < 1e-6, `DC ${got.peak_FS(0)}`);
  }
});

/** The largest line below 20 kHz that is no harmonic, in dBFS. */
function largestAlias_dBFS(setUp: StageSetUp, periods: number, amplitude: number): number {
  const got = lines(setUp, periods, amplitude);
  let largest = 0;
  for (let bin = 1; bin < (20_000 * N) / fs; bin++) {
    if (bin % periods !== 0) largest = Math.max(largest, got.peak_FS(bin));
  }
  return 20 * Math.log10(largest);
}

test('nothing folds back above -90 dBFS: full-scale 5 kHz at 8x to 18 dB, full-scale 300 Hz at 2x', () => {
  for (const drive_dB of [6, 12, 18]) {
    const high = largestAlias_dBFS({ settings: { drive_dB }, figures: { reference_FS: 1 } }, 3413, 1); // 4999.5 Hz
    assert.ok(high <= -90, `8x, ${drive_dB} dB: ${high}`);
    const low = largestAlias_dBFS(
      { settings: { drive_dB, oversampling: '2x' }, figures: { reference_FS: 1 } },
      205, // 300.3 Hz
      1,
    );
    assert.ok(low <= -110, `2x, ${drive_dB} dB: ${low}`);
  }
});

test('off, or a mix of 0, is the input to the bit, 56 samples late', () => {
  const input = Float64Array.from({ length: 4096 }, (_, n) => 0.5 * Math.sin(n * 0.01) + 0.1 * Math.sin(n));
  for (const setUp of [{ on: false }, { settings: { mix_percent: 0 } }]) {
    const out = runStage(createStage(saturate, { ...setUp, figures }), input).left;
    assert.equal(saturate.latencySamples(fs), 56);
    assert.deepEqual(out.subarray(56, 4096), input.subarray(0, 4096 - 56));
  }
});

test('small signals pass unchanged, at the latency, in both modes', () => {
  const input = Float64Array.from({ length: 4096 }, (_, n) => 1e-5 * Math.sin(n * 0.05));
  for (const oversampling of ['2x', '8x']) {
    const out = runStage(createStage(saturate, { settings: { drive_dB: 0, oversampling }, figures }), input).left;
    for (let n = 300; n < 4000; n++) assert.ok(Math.abs(out[n]! - input[n - 56]!) < 1e-12, `${oversampling} at ${n}`);
  }
});

test('changes while sound is running do not click', () => {
  const input = Float64Array.from({ length: 128 * 400 }, (_, n) => 0.5 * Math.sin((2 * Math.PI * 55 * n) / fs));
  const unit = createStage(saturate, { figures, settings: { drive_dB: 6, oversampling: '2x' } });
  const changes: Record<number, StageSetUp> = {
    50: { settings: { drive_dB: 18, oversampling: '2x' } },
    100: { settings: { drive_dB: 18, oversampling: '8x' } },
    150: { settings: { drive_dB: 18, bias: 0.3 } },
    200: { settings: { drive_dB: 18, bias: 0, mix_percent: 40 } },
    250: { on: false },
    300: { settings: { drive_dB: 12 }, figures: { ...figures, makeUpDrives_dB: [12], makeUps_dB: [9] } },
  };
  const out = runStage(unit, input, input, (frames) => {
    const change = changes[frames / 128];
    if (change) unit.configure(stageInstance(saturate, { figures, ...change }), false);
  }).left;
  let steepest = 0;
  for (let n = 1000; n < out.length; n++) {
    steepest = Math.max(steepest, Math.abs(out[n]! - 2 * out[n - 1]! + out[n - 2]!));
  }
  // The saturated tone itself bends by 4e-4 at most; a step of 1e-3 of full scale would show.
  assert.ok(steepest < 5e-4, `${steepest}`);
  assert.deepEqual(out.subarray(128 * 262, 128 * 300), input.subarray(128 * 262 - 56, 128 * 300 - 56));
});

test('the reference reads a sine as its peak, pauses left out', () => {
  const left = Float64Array.from({ length: 5 * fs }, (_, n) =>
    n < fs ? 0.3 * Math.sin((2 * Math.PI * 40 * n) / fs) : 0,
  );
  assert.ok(Math.abs(saturateReference_FS({ left, right: left, sampleRate_Hz: fs }) - 0.3) < 1e-6);
  const silent = new Float64Array(fs);
  assert.equal(saturateReference_FS({ left: silent, right: silent, sampleRate_Hz: fs }), 0.25);
});

test('the measured make-up keeps the energy of a lane at any mix and drive of the table', () => {
  const left = Float64Array.from({ length: fs }, (_, n) => {
    const t = (n % 24_000) / fs;
    return 0.6 * Math.exp(-4 * t) * (Math.sin(2 * Math.PI * 55 * t) + 0.3 * Math.sin(2 * Math.PI * 110 * t));
  });
  const lane = { left, right: left, sampleRate_Hz: fs };
  const reference_FS = saturateReference_FS(lane);
  for (const mix_percent of [100, 50]) {
    const settings = { bias: 0.1, mix_percent, oversampling: '2x' };
    const table = saturateMakeUp(lane, settings, reference_FS, [0, 6, 12, 18]);
    for (const drive_dB of [0, 12]) {
      const unit = createStage(saturate, { settings: { ...settings, drive_dB }, figures: { reference_FS, ...table } });
      const out = runStage(unit, Float64Array.from([...left, ...new Float64Array(256)])).left;
      const change_dB = level_dB(out, 0, out.length) - level_dB(left, 0, fs) + 10 * Math.log10(out.length / fs);
      assert.ok(Math.abs(change_dB) < 0.001, `${mix_percent} %, ${drive_dB} dB: ${change_dB}`);
    }
  }
});
