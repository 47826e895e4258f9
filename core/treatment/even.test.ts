import assert from 'node:assert/strict';
import { test } from 'node:test';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import {
  createStage,
  level_dB,
  note,
  peakAbove_dBFS,
  runStage,
  sine,
  stageInstance,
} from '../../tests/contracts/run-stage.js';
import { evenDepth, evenFigures, predictedEvenness } from './even-gains.js';
import { even } from './even.js';

const fs = 48_000;
/** Twenty notes of E1, 0.4 s apart, alternating 4 dB over and under the line. */
const notes = Array.from({ length: 20 }, (_, i) => note(0.1 + 0.4 * i, 0.1 + 0.4 * i + 0.39, 41.2034));
const deviations = notes.map((_, i) => (i % 2 ? -4 : 4));
const figures = { noteDeviation_dB: deviations, pitchDeviation_dB: deviations };

function alternatingLine(): Float64Array {
  const line = new Float64Array(Math.round(8.2 * fs));
  notes.forEach((each, i) => {
    const tone = sine(41.2034, 0.4, 0.2 * 10 ** (deviations[i]! / 20));
    line.set(tone, Math.round(each.start_s * fs));
  });
  return line;
}

describeStereoUnit('even', () => createStage(even, { notes, figures }));

const noteLevels = (line: Float64Array) =>
  notes.map((each) => level_dB(line, Math.round((each.start_s + 0.03) * fs), Math.round((each.start_s + 0.25) * fs)));

function spread_dB(levels: number[]): number {
  const ascending = [...levels].sort((a, b) => a - b);
  const at = (p: number) => {
    const place = (p * (ascending.length - 1)) / 100;
    const low = ascending[Math.floor(place)]!;
    return low + (place - Math.floor(place)) * (ascending[Math.ceil(place)]! - low);
  };
  return at(90) - at(10);
}

const line = alternatingLine();

// Closed form: spread of (level + gain), P90 - P10.
for (const [depth_percent, expected_dB] of [
  [0, 8],
  [50, 4],
  [100, 0],
] as const) {
  test(`twenty notes alternating by 4 dB, depth ${depth_percent} %: spread ${expected_dB} dB, as predicted`, () => {
    const out = runStage(createStage(even, { notes, figures, settings: { which: 'all', depth_percent } }), line);
    const got = spread_dB(noteLevels(out.left));
    assert.ok(Math.abs(got - expected_dB) <= 0.02, `${got}`);
    const predicted = predictedEvenness(deviations, deviations, depth_percent / 100, 6);
    assert.ok(Math.abs(predicted.spread_dB - got) <= 0.02, `predicted ${predicted.spread_dB}, got ${got}`);
  });
}

test('the gain stands still from 2 ms before each onset', () => {
  const ones = new Float64Array(line.length).fill(0.5);
  const out = runStage(createStage(even, { notes, figures }), ones).left;
  for (const [i, each] of notes.entries()) {
    const onset = Math.round(each.start_s * fs);
    const expected = 0.5 * 10 ** (-deviations[i]! / 20);
    for (const n of [onset - 95, onset, onset + 9600]) {
      assert.ok(Math.abs(out[n]! - expected) < 1e-12, `note ${i} at ${n - onset}: ${out[n]!}`);
    }
    if (i > 0) assert.ok(Math.abs(out[onset - 700]! - expected) > 0.05, 'the fade is before it');
  }
});

test('no note is ridden beyond the largest ride', () => {
  const big = deviations.map((value) => value * 2);
  const ones = new Float64Array(line.length).fill(0.5);
  const out = runStage(
    createStage(even, { notes, figures: { pitchDeviation_dB: big }, settings: { maxRide_dB: 6 } }),
    ones,
  );
  const level = (n: number) => 20 * Math.log10(out.left[n]! / 0.5);
  assert.ok(Math.abs(level(Math.round(notes[4]!.start_s * fs)) + 6) < 1e-9);
  assert.ok(Math.abs(level(Math.round(notes[5]!.start_s * fs)) - 6) < 1e-9);
});

// Limits measured for this project on a 41 Hz tone at full scale.
test('a 12 dB ride leaks under -60 dB above 300 Hz and under -85 dB above 1 kHz', () => {
  const tone = sine(41.2034, 0.8, 1);
  const two = [note(0, 0.4, 41.2034), note(0.4, 0.8, 41.2034)];
  for (const fade_ms of [20, 25, 30]) {
    const unit = createStage(even, {
      notes: two,
      figures: { pitchDeviation_dB: [12, 0] },
      settings: { maxRide_dB: 12, fade_ms },
    });
    const out = runStage(unit, tone).left;
    assert.ok(peakAbove_dBFS(out, 300) <= -60, `${fade_ms} ms, 300 Hz: ${peakAbove_dBFS(out, 300)}`);
    assert.ok(peakAbove_dBFS(out, 1000) <= -85, `${fade_ms} ms, 1 kHz: ${peakAbove_dBFS(out, 1000)}`);
  }
});

test('off is the input to the bit; a change while running cross-fades and a seek changes nothing', () => {
  const off = createStage(even, { notes, figures, on: false });
  assert.deepEqual(runStage(off, line).left.subarray(0, line.length), line);

  const unit = createStage(even, { notes, figures });
  const ones = new Float64Array(fs).fill(0.5);
  const out = runStage(unit, ones, ones, (frames) => {
    if (frames === 128 * 10) unit.configure(stageInstance(even, { figures, settings: { depth_percent: 0 } }), false);
  }).left;
  assert.ok(Math.abs(out[1279]! - 0.5 * 10 ** (-4 / 20)) < 1e-12);
  assert.equal(out[128 * 18], 0.5);
  for (let n = 1; n < ones.length; n++) assert.ok(Math.abs(out[n]! - out[n - 1]!) < 0.001, `step at ${n}`);

  const whole = runStage(createStage(even, { notes, figures }), line).left;
  const seeked = createStage(even, { notes, figures });
  seeked.seek(fs);
  assert.deepEqual(runStage(seeked, line.subarray(fs, 2 * fs)).left, whole.subarray(fs, 2 * fs));
});

test('a pitch that stands out in the low lane only is left to the low lane where that is asked', () => {
  const known = [
    { deviation_dB: 5, pitchExcess_dB: 5, lowLaneExcess_dB: 6, highLaneExcess_dB: 1 },
    { deviation_dB: 5, pitchExcess_dB: 5, lowLaneExcess_dB: 5, highLaneExcess_dB: 4 },
    { deviation_dB: -5, pitchExcess_dB: -5, lowLaneExcess_dB: -6, highLaneExcess_dB: 0 },
    { deviation_dB: 2, pitchExcess_dB: null, lowLaneExcess_dB: null, highLaneExcess_dB: null },
  ];
  const apart = evenFigures(known, true);
  assert.deepEqual(apart.whole.pitchDeviation_dB, [0, 5, 0, 0]);
  assert.deepEqual(apart.low.pitchDeviation_dB, [6, 0, -6, 0]);
  assert.deepEqual(evenFigures(known, false).whole.pitchDeviation_dB, [5, 5, -5, 0]);
  assert.deepEqual(apart.whole.noteDeviation_dB, [5, 5, -5, 2]);
});

test('the least depth that meets the wish is found, and what cannot be met is said', () => {
  const found = evenDepth(deviations, deviations, 6, { spread_dB: 3, shareBeyond: 0.04 });
  assert.ok(found.met);
  assert.equal(found.depth, 0.63); // 8 (1 - d) <= 3: d >= 0.625
  const bound = evenDepth(
    [...deviations].map((d) => d * 2),
    deviations.map((d) => d * 2),
    6,
    { spread_dB: 3, shareBeyond: 0.04 },
  );
  assert.ok(!bound.met);
  assert.ok(Math.abs(bound.predicted.spread_dB - 4) < 1e-9); // +-8 dB less a ride of 6
});
