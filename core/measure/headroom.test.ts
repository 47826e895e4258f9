import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import { isMeasured, valueOf } from '../units/reading.js';
import { SeededRandom } from '../units/seeded-random.js';
import { headroomOf, measureHeadroom } from './headroom.js';
import { takeLowsOut } from './without-lows.js';

const RATE = 48000;

function sines(seconds: number, parts: readonly (readonly [number, number])[], rate = RATE): StereoSignal {
  const samples = Float64Array.from({ length: seconds * rate }, (_, n) =>
    parts.reduce((sum, [f, amplitude]) => sum + amplitude * Math.sin((2 * Math.PI * f * n) / rate), 0),
  );
  return monoSignal(samples, rate);
}

function measuredOf(mix: StereoSignal) {
  const measured = headroomOf(mix);
  assert.ok(isMeasured(measured));
  return measured;
}

test("lows' cost of 0.25 at 1 kHz with a at 50 Hz is 20 lg(1 + 4 a) (closed form)", () => {
  for (const [a, expected] of [
    [0, 0],
    [0.05, 1.58],
    [0.1, 2.92],
    [0.25, 6.02],
    [0.5, 9.54],
  ] as const) {
    const mix = sines(3.2, [
      [1000, 0.25],
      [50, a],
    ]);
    const { cost_dB, left_dB } = measuredOf(mix);
    assert.ok(Math.abs(valueOf(cost_dB)! - expected) < 0.2, `a ${a}: ${valueOf(cost_dB)}`);
    assert.ok(Math.abs(valueOf(left_dB)! + 20 * Math.log10(0.25 + a)) < 0.1, `a ${a}: ${valueOf(left_dB)}`);
  }
});

test('the lows are taken out alike in one long transform and in overlapping short ones, stereo and mono', () => {
  const random = new SeededRandom(8);
  const left = Float64Array.from({ length: 150000 }, () => random.between(-1, 1));
  const right = Float64Array.from({ length: 150000 }, () => random.between(-1, 1));
  const pieces = { left: left.slice(), right: right.slice() };
  takeLowsOut(pieces.left, pieces.right, RATE, 120);
  const alone = left.slice();
  takeLowsOut(alone, alone, RATE, 120);
  const padded = new Float64Array(left.length + 40000);
  padded.set(left, 20000);
  takeLowsOut(padded, padded, RATE, 120); // the same, cut into blocks elsewhere
  for (let n = 0; n < left.length; n++) {
    assert.ok(Math.abs(pieces.left[n]! - alone[n]!) < 1e-12);
    assert.ok(Math.abs(pieces.left[n]! - padded[n + 20000]!) < 3e-4, `${n}: ${pieces.left[n]! - padded[n + 20000]!}`);
  }
});

test('half an octave under the corner everything goes, half an octave over it nothing does, without a shift in time', () => {
  const level = (f: number) => {
    const { left } = sines(3, [[f, 1]]);
    const kept = Float64Array.from(left);
    takeLowsOut(kept, kept, RATE, 120);
    let sum = 0;
    for (let n = RATE; n < 2 * RATE; n++) sum += kept[n]! * left[n]!;
    return (2 * sum) / RATE;
  };
  assert.ok(Math.abs(level(80)) < 0.002, `${level(80)}`);
  assert.ok(Math.abs(level(120) - 0.5) < 0.01, `${level(120)}`);
  assert.ok(Math.abs(level(180) - 1) < 0.002, `${level(180)}`);
});

test('quiet blocks stay out, silence gives a reason, over full scale is negative', () => {
  const mix = sines(4, [
    [1000, 0.25],
    [50, 0.25],
  ]);
  for (let n = 2 * RATE; n < mix.left.length; n++) mix.left[n]! *= 0.1;
  const measured = measuredOf(mix);
  assert.equal(measured.blocks.length, 5);
  assert.ok(Math.abs(valueOf(measured.cost_dB)! - 6.02) < 0.2);
  assert.ok(valueOf(measuredOf(sines(1, [[100, 2]])).left_dB)! < -5.9);
  assert.equal(headroomOf(monoSignal(new Float64Array(RATE), RATE)).kind, 'unmeasurable');
  const tracks = { kick: [], bass: [], rest: [] };
  const empty = { sampleRate_Hz: RATE, frameCount: 0, kick: null, bass: null, rest: null, tracks };
  assert.equal(measureHeadroom(empty).kind, 'unmeasurable');
});
