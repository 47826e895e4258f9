import assert from 'node:assert/strict';
import { test } from 'node:test';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import { createStage, level_dB, note, runStage, sine, stageInstance } from '../../tests/contracts/run-stage.js';
import { steady } from './steady.js';
import {
  loudNoteReduction_dB,
  steadyMakeUp_dB,
  steadyNoteLevels_dB,
  steadyThreshold,
  steadyThresholdStart_dBFS,
} from './steady-threshold.js';

const settings = { threshold_dBFS: -20, ratio: 3, knee_dB: 6, attack_ms: 30, release_ms: 120 };

describeStereoUnit('steady', () => createStage(steady, { settings }));

const peak = (level: number) => 10 ** (level / 20);

/** The gain in dB, frame by frame, read from a small constant beside the sound: shares no code with the detector. */
function reductionTrace(input: Float64Array, set = settings): Float64Array {
  const unit = createStage(steady, { settings: set });
  const out = runStage(unit, input);
  return Float64Array.from(input, (x, n) => (Math.abs(x) > 1e-9 ? -20 * Math.log10(out.left[n]! / x) : NaN));
}

const readAt = (trace: Float64Array, time_s: number) => {
  for (let n = Math.round(time_s * 48_000); n < trace.length; n++) if (!Number.isNaN(trace[n]!)) return trace[n]!;
  return NaN;
};

// Measured for this project with an independent prototype in another language: 41.2034 Hz sine, -8 dBFS peak, T -20, R 3, W 6.
test('a steady tone settles on the curve, without ripple, at the measured times', () => {
  const trace = reductionTrace(sine(41.2034, 3, peak(-8)));
  for (const [time_ms, expected_dB] of [
    [30, 2.83],
    [60, 5.9],
    [100, 7.44],
    [200, 7.98],
  ] as const) {
    const got = readAt(trace, time_ms / 1000);
    assert.ok(Math.abs(got - expected_dB) <= 0.03, `${time_ms} ms: ${got}, expected ${expected_dB}`);
  }
  const settled = trace.subarray(96_000).filter((value) => !Number.isNaN(value));
  const low = Math.min(...settled);
  const high = Math.max(...settled);
  assert.ok(Math.abs(0.5 * (low + high) - 8.03) <= 0.02, `settles at ${low}..${high}`);
  assert.ok(high - low <= 0.02, `ripple ${high - low}`);
});

test('the release remembers: bursts of 0.05 to 5 s let go at the measured times', () => {
  const rows = [
    [0.05, 6.15, 107, 215, 455],
    [0.2, 8.01, 134, 271, 737],
    [1, 8.07, 177, 517, 1400],
    [5, 8.07, 195, 618, 1520],
  ] as const;
  for (const [burst_s, top_dB, half_ms, quarter_ms, tenth_ms] of rows) {
    const input = sine(55, burst_s + 2, peak(-8));
    for (let n = Math.round(burst_s * 48_000); n < input.length; n++) input[n]! *= peak(-60) / peak(-8);
    const trace = reductionTrace(input);
    const end = Math.round(burst_s * 48_000);
    let top = 0;
    let last = end; // a short burst is still in the detector's window when it is over: counted from the top
    trace.forEach((value, n) => {
      if (value > top) {
        top = value;
        last = Math.max(n, end);
      }
    });
    assert.ok(Math.abs(top - top_dB) <= 0.03, `${burst_s} s: ${top}, expected ${top_dB}`);
    for (const [share, expected_ms] of [
      [0.5, half_ms],
      [0.25, quarter_ms],
      [0.1, tenth_ms],
    ] as const) {
      let n = last;
      while (n < trace.length && !(trace[n]! <= share * top)) n++;
      const got_ms = (n - last) / 48;
      assert.ok(Math.abs(got_ms / expected_ms - 1) <= 0.05, `${burst_s} s to ${share}: ${got_ms}, ${expected_ms} ms`);
    }
  }
});

test('one gain for both channels; the louder channel sets it', () => {
  const left = sine(55, 1, 0.4);
  const right = sine(55, 1, 0.1);
  const out = runStage(createStage(steady, { settings }), left, right);
  for (let n = 1000; n < left.length; n += 97) {
    assert.ok(Math.abs(out.left[n]! * right[n]! - out.right[n]! * left[n]!) < 1e-15);
  }
});

test('off is the input to the bit; switching on and off does not click', () => {
  const input = sine(41.2034, 1, 0.5);
  const off = createStage(steady, { settings, on: false, figures: { makeUp_dB: 3 } });
  assert.deepEqual(runStage(off, input).left.subarray(0, input.length), input);
  const unit = createStage(steady, { settings, on: false });
  const out = runStage(unit, input, input, (frames) => {
    if (frames === 128 * 100) unit.configure(stageInstance(steady, { settings }), false);
    if (frames === 128 * 200) unit.configure(stageInstance(steady, { settings, on: false }), false);
  });
  assert.deepEqual(out.left.subarray(128 * 209, input.length), input.subarray(128 * 209));
  let steepest = 0;
  for (let n = 1; n < input.length; n++) steepest = Math.max(steepest, Math.abs(out.left[n]! - out.left[n - 1]!));
  // The tone itself moves by 2 pi f A / fs; a step of 1 % of full scale would show.
  assert.ok(steepest < (2 * Math.PI * 41.2034 * 0.5) / 48_000 + 0.002, `step ${steepest}`);
});

test('the meter reads the reduction, and a setting that is NaN keeps the old one', () => {
  const unit = createStage(steady, { settings });
  const input = sine(41.2034, 1, peak(-8));
  runStage(unit, input);
  assert.ok(Math.abs(unit.meter_dB! - 8.03) < 0.03);
  unit.configure(stageInstance(steady, { settings: { ...settings, threshold_dBFS: NaN } }), false);
  runStage(unit, input);
  assert.ok(Math.abs(unit.meter_dB! - 8.03) < 0.03);
});

/** A line of twelve notes at uneven levels, 0.4 s each, every 0.5 s. */
function unevenLine() {
  const notes = Array.from({ length: 12 }, (_, i) => note(0.5 * i, 0.5 * i + 0.4, i % 2 ? 55 : 41.2034));
  const left = new Float64Array(6 * 48_000);
  notes.forEach((each, i) => {
    const tone = sine(each.frequency_Hz, 0.4, peak(-14 + ((i * 5) % 9)));
    tone.forEach((value, n) => (left[Math.round(each.start_s * 48_000) + n] = value * Math.exp(-n / 30_000)));
  });
  return { notes, lane: { left, right: left, sampleRate_Hz: 48_000 } };
}

test('the wished reduction is reached: started within 0.6 dB by the closed form, found within 0.05 dB', () => {
  const { notes, lane } = unevenLine();
  for (const wished_dB of [2, 4, 6]) {
    const start = steadyThresholdStart_dBFS(steadyNoteLevels_dB(lane, notes), wished_dB, 3, 6);
    const open = loudNoteReduction_dB(lane, notes, { ...settings, threshold_dBFS: start });
    assert.ok(Math.abs(open - wished_dB) < 0.15 * wished_dB, `start gives ${open}, wished ${wished_dB}`);
    const found = steadyThreshold(lane, notes, wished_dB, settings);
    // Measured again on the stage's own meter, by the frames of the notes.
    const unit = createStage(steady, { settings: { ...settings, threshold_dBFS: found.threshold_dBFS } });
    const means = notes.map(() => ({ sum: 0, count: 0 }));
    runStage(unit, lane.left, lane.right, (frames) => {
      const at = notes.findIndex((n) => frames / 48_000 >= n.start_s + 0.05 && frames / 48_000 < n.start_s + 0.25);
      if (at >= 0) means[at] = { sum: means[at]!.sum + unit.meter_dB!, count: means[at]!.count + 1 };
    });
    const ascending = means.map((m) => m.sum / m.count).sort((a, b) => a - b);
    const place = 0.9 * (ascending.length - 1);
    const below = ascending[Math.floor(place)]!;
    const p90 = below + (place - Math.floor(place)) * (ascending[Math.ceil(place)]! - below);
    assert.ok(Math.abs(p90 - wished_dB) < 0.05, `reached ${p90}, wished ${wished_dB}`);
  }
});

test('the make-up gives the lane its energy back', () => {
  const { lane } = unevenLine();
  const makeUp_dB = steadyMakeUp_dB(lane, settings);
  assert.ok(makeUp_dB > 1);
  const out = runStage(createStage(steady, { settings, figures: { makeUp_dB } }), lane.left);
  const change_dB = level_dB(out.left, 0, lane.left.length) - level_dB(lane.left, 0, lane.left.length);
  assert.ok(Math.abs(change_dB) < 0.001, `${change_dB}`);
});
