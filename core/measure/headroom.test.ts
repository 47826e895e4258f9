import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import { isMeasured, valueOf } from '../units/reading.js';
import { SeededRandom } from '../units/seeded-random.js';
import { headroomOf, measureHeadroom } from './headroom.js';
import { WithoutLows } from './without-lows.js';

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

function withoutLows(mix: StereoSignal): StereoSignal {
  const highs = new WithoutLows(mix, 120);
  const { length } = mix.left;
  const { sampleRate_Hz } = mix;
  return { left: highs.stretch('left', 0, length), right: highs.stretch('right', 0, length), sampleRate_Hz };
}

test('a stretch without its lows is the same samples wherever it is cut', () => {
  const random = new SeededRandom(9);
  const left = Float64Array.from({ length: 70001 }, () => random.between(-1, 1));
  for (const rate of [8000, 48000, 96000]) {
    const mix = monoSignal(left, rate);
    const whole = withoutLows(mix).left;
    const highs = new WithoutLows(mix, 120);
    for (const [from, to] of [
      [0, 1],
      [1, 40],
      [333, 20334],
      [69000, 70001],
    ] as const) {
      assert.deepEqual(highs.stretch('left', from, to), whole.slice(from, to), `${rate}: ${from} to ${to}`);
    }
  }
});

test('the lows are taken out alike in one long transform and in overlapping short ones, stereo and mono', () => {
  const random = new SeededRandom(8);
  const left = Float64Array.from({ length: 150000 }, () => random.between(-1, 1));
  const right = Float64Array.from({ length: 150000 }, () => random.between(-1, 1));
  const pieces = withoutLows({ left, right, sampleRate_Hz: RATE });
  const alone = withoutLows(monoSignal(left, RATE)).left;
  const longer = new Float64Array(left.length + 40000);
  longer.set(left, 20000);
  const padded = withoutLows(monoSignal(longer, RATE)).left; // the same, cut into blocks elsewhere
  for (let n = 0; n < left.length; n++) {
    assert.ok(Math.abs(pieces.left[n]! - alone[n]!) < 1e-12);
    assert.ok(Math.abs(pieces.left[n]! - padded[n + 20000]!) < 3e-4, `${n}: ${pieces.left[n]! - padded[n + 20000]!}`);
  }
});

test('half an octave under the corner everything goes, half an octave over it nothing does, without a shift in time', () => {
  for (const rate of [8000, 44100, 48000, 96000]) {
    const level = (f: number) => {
      const tone = sines(3, [[f, 1]], rate);
      const { left: kept } = withoutLows(tone);
      let sum = 0;
      for (let n = rate; n < 2 * rate; n++) sum += kept[n]! * tone.left[n]!;
      return (2 * sum) / rate;
    };
    assert.ok(Math.abs(level(40)) < 0.0002, `${rate}: ${level(40)}`);
    assert.ok(Math.abs(level(80)) < 0.002, `${rate}: ${level(80)}`);
    assert.ok(Math.abs(level(120) - 0.5) < 0.01, `${rate}: ${level(120)}`);
    assert.ok(Math.abs(level(180) - 1) < 0.002, `${rate}: ${level(180)}`);
  }
});

test('what would fold onto the lows where they are worked on at a lower rate is left as it is', () => {
  for (const f of [5960, 6080, 11950, 23920]) {
    const tone = sines(2, [[f, 1]]);
    const { left } = withoutLows(tone);
    for (let n = 0.5 * RATE; n < 1.5 * RATE; n++) {
      assert.ok(Math.abs(left[n]! - tone.left[n]!) < 2e-5, `${f} Hz, frame ${n}`);
    }
  }
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
