import assert from 'node:assert/strict';
import { test } from 'node:test';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import { TICK } from '../dsp/stereo-unit.js';
import { align } from './align.js';
import { centre } from './centre.js';
import { clean } from './clean.js';
import { RecursiveTurn } from './recursive-turn.js';
import { split } from './split.js';
import { defaultInstance, type StageDeclaration, type StageUnit } from './stage.js';
import type { SettingValue } from './treatment.js';
import { trim } from './trim.js';
import { widen } from './widen.js';

const sampleRate_Hz = 48_000;

function unitOf(
  declaration: StageDeclaration,
  settings: Record<string, SettingValue> = {},
  figures: Record<string, number> = {},
): StageUnit {
  const unit = declaration.create({ sampleRate_Hz, notes: [], hits: [] });
  const instance = defaultInstance(declaration);
  unit.configure({ ...instance, on: true, settings: { ...instance.settings, ...settings }, figures }, true);
  unit.seek(0);
  return unit;
}

describeStereoUnit('align', () => unitOf(align, { delay_ms: 1.3, polarity: 'inverted' }));
describeStereoUnit('clean', () => unitOf(clean, { lowCut: true }));
describeStereoUnit('centre', () => unitOf(centre, { turn: 'right' }, { makeUp_dB: 2 }), { mixesChannels: true });
describeStereoUnit('split', () => unitOf(split, { phase: 'recursive' }));
describeStereoUnit('widen', () => unitOf(widen), { mixesChannels: true });
describeStereoUnit('trim', () => unitOf(trim, { gain_dB: 3 }));
describeStereoUnit('RecursiveTurn', () => {
  const turn = new RecursiveTurn(sampleRate_Hz);
  turn.setCorner(300, true);
  return turn;
});

test('declared latency is the unit’s, at every rate', () => {
  for (const declaration of [align, clean, centre, split, widen, trim]) {
    for (const rate of [44_100, 48_000, 96_000]) {
      const unit = declaration.create({ sampleRate_Hz: rate, notes: [], hits: [] });
      assert.equal(unit.latencySamples, declaration.latencySamples(rate), declaration.id);
    }
  }
});

type Signal = (t_s: number) => number;

// The last half second of a steady sound after the stage has settled: whole half periods of every whole frequency.
const WINDOW = sampleRate_Hz / 2;

function rendered(unit: StageUnit, left: Signal, right: Signal, seconds = 0.9) {
  const length = Math.ceil((seconds * sampleRate_Hz) / TICK) * TICK;
  const out = { left: new Float64Array(length), right: new Float64Array(length) };
  for (let n = 0; n < length; n++) {
    out.left[n] = left(n / sampleRate_Hz);
    out.right[n] = right(n / sampleRate_Hz);
  }
  for (let t = 0; t < length; t += TICK) {
    unit.process(out.left.subarray(t, t + TICK), out.right.subarray(t, t + TICK), TICK);
    unit.flush();
  }
  return { left: out.left.subarray(-WINDOW), right: out.right.subarray(-WINDOW) };
}

function powerOf(samples: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < samples.length; n++) sum += samples[n]! * samples[n]!;
  return sum / samples.length;
}

const dB = (ratio: number) => 10 * Math.log10(ratio);
const sine =
  (frequency_Hz: number, phase = 0): Signal =>
  (t) =>
    Math.sin(2 * Math.PI * frequency_Hz * t + phase);
const silence: Signal = () => 0;

// Two tones of equal power with correlation rho in every one of them: right = rho left + sqrt(1 - rho^2) quadrature.
// 10 lg(E_M / (E_M + E_S)), E_S scaled by (1 - amount)^2: closed form of the fold-down loss at equal powers.
const tabled = [
  [0.5, [-1.25, -0.35, -0.06, 0]],
  [0, [-3.01, -0.97, -0.17, 0]],
  [-0.5, [-6.02, -2.43, -0.49, 0]],
] as const;

test('centre: fold-down loss by amount 0, 50, 80, 100 % at three correlations', () => {
  for (const [rho, losses_dB] of tabled) {
    [0, 50, 80, 100].forEach((amount_percent, i) => {
      const unit = unitOf(centre, { corner_Hz: 250, amount_percent });
      const f = 20; // far under the corner: the low-pass takes all of it within 4e-5
      const right: Signal = (t) => rho * sine(f)(t) + Math.sqrt(1 - rho * rho) * sine(f, Math.PI / 2)(t);
      const out = rendered(unit, sine(f), right);
      const mid = powerOf(out.left.map((value, n) => 0.5 * (value + out.right[n]!)));
      const side = powerOf(out.left.map((value, n) => 0.5 * (value - out.right[n]!)));
      assert.ok(Math.abs(dB(mid / (mid + side)) - losses_dB[i]!) < 0.02, `rho ${rho}, ${amount_percent} %`);
    });
  }
});

// Closed form: left 1 - LP/2, right LP/2, LP = 1/(1 + x^4); measured for this project: -.7/-.3/-.1/0, leak -22/-31/-44/-54 dB.
test('centre: a hard-left tone above the corner keeps its side', () => {
  for (const factor of [1.5, 2, 3, 4]) {
    const out = rendered(unitOf(centre, { corner_Hz: 120 }), sine(120 * factor), silence);
    const low = 1 / (1 + factor ** 4);
    assert.ok(Math.abs(dB(powerOf(out.left) / 0.5) - 20 * Math.log10(1 - low / 2)) < 0.02, `left at ${factor}`);
    assert.ok(Math.abs(dB(powerOf(out.right) / 0.5) - 20 * Math.log10(low / 2)) < 0.6, `leak at ${factor}`);
  }
});

test('centre: sides that oppose survive in mono once one of them is turned, and are gone without', () => {
  const opposed = (turn: string) => rendered(unitOf(centre, { turn }), sine(41), (t) => -sine(41)(t));
  assert.ok(dB(powerOf(opposed('none').left) / 0.5) < -33, 'taken out');
  // A first-order turn at 250 Hz is 180 degrees less 2 atan(41/250) at 41 Hz: cos^2 of half of it is left.
  const expected_dB = 20 * Math.log10(Math.cos(Math.atan(41 / 250)));
  assert.ok(Math.abs(dB(powerOf(opposed('left').left) / 0.5) - expected_dB) < 0.02);
  assert.ok(Math.abs(dB(powerOf(opposed('right').right) / 0.5) - expected_dB) < 0.02);
});

test('centre: make-up raises the lows of the middle and is held at 3 dB', () => {
  for (const [makeUp_dB, expected_dB] of [
    [1.5, 1.5],
    [9, 3],
  ] as const) {
    const out = rendered(unitOf(centre, { corner_Hz: 250 }, { makeUp_dB }), sine(20), sine(20));
    assert.ok(Math.abs(dB(powerOf(out.left) / 0.5) - expected_dB) < 0.01);
  }
});

test('clean: DC goes, the cut follows the Butterworth formula', () => {
  const level = (f: number, slope: string) =>
    dB(
      powerOf(rendered(unitOf(clean, { lowCut: true, corner_Hz: 20, slope_dBperOct: slope }), sine(f), sine(f)).left) /
        0.5,
    );
  for (const [slope, order] of [
    ['12', 2],
    ['24', 4],
  ] as const) {
    for (const f of [10, 20, 41]) {
      const expected_dB = -10 * Math.log10(1 + (20 / f) ** (2 * order));
      assert.ok(Math.abs(level(f, slope) - expected_dB) < 0.02, `${f} Hz, ${slope}: ${level(f, slope)}`);
    }
  }
  const out = rendered(
    unitOf(clean, {}, { meanLeft_FS: 0.1, meanRight_FS: -0.05 }),
    () => 0.1,
    () => -0.05,
  );
  assert.ok(out.left.every((value) => value === 0) && out.right.every((value) => value === 0));
});

// Wide-band, all lines at once: 1/k harmonics of sixteen pitches from E1, each run alone; S/M wished -6 dB.
const pitches_Hz = Array.from({ length: 16 }, (_, n) => 41.2034 * 2 ** (n / 12));

test('widen: fold-down untouched to -280 dB, note pull within .57 dB, side to mid as wished', () => {
  const pulls: number[] = [];
  for (const pitch_Hz of pitches_Hz) {
    const lines = Array.from({ length: 300 }, (_, i) => i + 1).filter(
      (k) => k * pitch_Hz >= 800 && k * pitch_Hz <= 4000,
    );
    const length = 0.9 * sampleRate_Hz;
    const note = new Float64Array(length);
    for (const k of lines) {
      const turn = (2 * Math.PI * k * pitch_Hz) / sampleRate_Hz;
      for (let n = 0; n < length; n++) note[n]! += Math.sin(turn * n) / k;
    }
    const read: Signal = (t) => note[Math.round(t * sampleRate_Hz)] ?? 0;
    const unit = unitOf(widen, { sideToMid_dB: -6 });
    const out = rendered(unit, read, read);
    pulls.push(Math.abs(dB(powerOf(out.left) / powerOf(out.right))));
    // Find where the output stands in the input.
    const end = Math.ceil(length / TICK) * TICK - unit.latencySamples;
    let worst = 0;
    for (let n = 0; n < WINDOW; n++) {
      const expected = note[end - WINDOW + n] ?? 0;
      worst = Math.max(worst, Math.abs(0.5 * (out.left[n]! + out.right[n]!) - expected));
    }
    assert.ok(worst < 1e-14, `fold-down ${20 * Math.log10(worst)} dB`);
    const side = powerOf(out.left.map((value, n) => 0.5 * (value - out.right[n]!)));
    const mid = powerOf(out.left.map((value, n) => 0.5 * (value + out.right[n]!)));
    // The high-pass takes .3 dB and less of lines from 800 Hz on.
    assert.ok(Math.abs(dB(side / mid) + 6) < 3.2, `S/M ${dB(side / mid)}`);
  }
  assert.ok(Math.max(...pulls) <= 0.6, `pull ${Math.max(...pulls)}`);
});

test('widen: correlation of the sides (1 - g^2)/(1 + g^2) = .598 at -6 dB, each side within .45 dB, far above the corner', () => {
  for (const [wished_dB, correlation] of [
    [-12, 0.88],
    [-9, 0.78],
    [-6, 0.598],
    [-3, 0.33],
  ] as const) {
    let cross = 0;
    let left = 0;
    let right = 0;
    // A third octave about 4 kHz, in lines of equal power that are orthogonal over a second.
    for (let f = 3564; f < 4490; f += 74) {
      const out = rendered(unitOf(widen, { sideToMid_dB: wished_dB }), sine(f), sine(f));
      cross +=
        powerOf(out.left.map((value, n) => 0.5 * (value + out.right[n]!))) -
        powerOf(out.left.map((v, n) => 0.5 * (v - out.right[n]!)));
      left += powerOf(out.left);
      right += powerOf(out.right);
    }
    assert.ok(
      Math.abs(cross / Math.sqrt(left * right) - correlation) < 0.01,
      `${wished_dB}: ${cross / Math.sqrt(left * right)}`,
    );
    const gain_dB = 10 * Math.log10(1 + 10 ** (wished_dB / 10));
    const count = Math.ceil((4490 - 3564) / 74);
    for (const side of [left, right]) assert.ok(Math.abs(dB(side / (0.5 * count)) - gain_dB) < 0.45);
  }
});

test('widen leaves alone what is wide already, and nothing happens below the corner', () => {
  const wide = rendered(unitOf(widen, { sideToMid_dB: -9 }, { sideToMidBefore_dB: -8 }), sine(2000), sine(2000));
  assert.deepEqual(wide.left, wide.right);
  const low = rendered(unitOf(widen, { sideToMid_dB: -3 }), sine(80), sine(80));
  const side = powerOf(low.left.map((value, n) => 0.5 * (value - low.right[n]!)));
  assert.ok(dB(side / 0.5) < -60, `${dB(side / 0.5)}`);
});

test('trim: the gain that was asked', () => {
  const out = rendered(unitOf(trim, { gain_dB: -4.5 }), sine(50), sine(60));
  assert.ok(Math.abs(dB(powerOf(out.left) / 0.5) + 4.5) < 1e-3);
});
