import assert from 'node:assert/strict';
import { test } from 'node:test';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import { SeededRandom } from '../units/seeded-random.js';
import { FADE_FRAMES } from './cross-fade.js';
import { PartitionedConvolver } from './partitioned-convolver.js';
import { TICK } from './stereo-unit.js';

const random = new SeededRandom(5);
const noise = (count: number) => Float64Array.from({ length: count }, () => random.between(-1, 1));

function withTaps(taps: Float64Array, maxTaps = taps.length): PartitionedConvolver {
  const convolver = new PartitionedConvolver(maxTaps, 2);
  convolver.spareTaps.fill(0);
  convolver.spareTaps.set(taps);
  convolver.commit(true);
  return convolver;
}

describeStereoUnit('PartitionedConvolver', () =>
  withTaps(Float64Array.from([0.5, -0.25, ...new Array(300).fill(0), 0.1])),
);

// The definition of convolution, summed directly.
function direct(signal: Float64Array, taps: Float64Array): Float64Array {
  return signal.map((_, n) => taps.reduce((sum, tap, k) => (n >= k ? sum + tap * signal[n - k]! : sum), 0));
}

function run(convolver: PartitionedConvolver, left: Float64Array, right: Float64Array, tickDone?: (t: number) => void) {
  const out = { left: left.slice(), right: right.slice() };
  for (let t = 0; t < left.length; t += TICK) {
    tickDone?.(t / TICK);
    convolver.process(out.left.subarray(t, t + TICK), out.right.subarray(t, t + TICK), TICK);
  }
  return out;
}

for (const [name, taps] of [
  ['one tap', Float64Array.of(0.7)],
  ['exactly one partition', noise(TICK)],
  [
    'three partitions and a bit, silent ones between',
    Float64Array.from({ length: 500 }, (_, k) => (k < 20 || k > 390 ? 1 / (k + 1) : 0)),
  ],
  ['leading silence', Float64Array.from({ length: 700 }, (_, k) => (k > 300 ? 0.01 : 0))],
] as const) {
  test(`equals the direct sum: ${name}`, () => {
    const left = noise(TICK * 12);
    const right = noise(TICK * 12);
    const out = run(withTaps(taps, 800), left, right);
    const expected = { left: direct(left, taps), right: direct(right, taps) };
    // Rounding of a 256-point transform: about 1e-15 of the sums that pass through it (taps here sum to under 70).
    for (let n = 0; n < left.length; n++) {
      assert.ok(Math.abs(out.left[n]! - expected.left[n]!) < 1e-12, `left ${n}`);
      assert.ok(Math.abs(out.right[n]! - expected.right[n]!) < 1e-12, `right ${n}`);
    }
  });
}

test('a new filter fades in from the next tick on, and a second one waits for the first', () => {
  const ones = new Float64Array(TICK * 40).fill(1);
  const convolver = withTaps(Float64Array.of(1));
  const commit = (gain: number) => {
    convolver.spareTaps[0] = gain;
    convolver.commit(false);
  };
  const out = run(convolver, ones, ones.slice(), (tick) => {
    if (tick === 4) commit(0.5);
    if (tick === 6) commit(0.25);
  }).left;
  const near = (n: number, value: number) =>
    assert.ok(Math.abs(out[n]! - value) < 1e-12, `${n}: ${out[n]} not ${value}`);
  near(4 * TICK - 1, 1);
  near(4 * TICK + FADE_FRAMES / 2 - 1, 0.75);
  near(4 * TICK + FADE_FRAMES - 1, 0.5);
  near(4 * TICK + 2 * FADE_FRAMES - 1, 0.25);
  near(out.length - 1, 0.25);
  let steepest = 0;
  for (let n = 1; n < out.length; n++) steepest = Math.max(steepest, Math.abs(out[n]! - out[n - 1]!));
  // Raised cosine over FADE_FRAMES: the steepest step is pi / (2 N) of the change of 0.5.
  assert.ok(steepest < (0.5 * Math.PI) / (2 * FADE_FRAMES) + 1e-9, `step ${steepest}`);
});

test('bad sizes are refused', () => {
  assert.throws(() => new PartitionedConvolver(0, 2), RangeError);
  assert.throws(() => new PartitionedConvolver(1.5, 2), RangeError);
});

test('what is only listened to is remembered to the bit', () => {
  const taps = noise(500);
  const left = noise(TICK * 12);
  const right = noise(TICK * 12);
  const all = run(withTaps(taps), left, right);
  const convolver = withTaps(taps);
  for (let t = 0; t < left.length; t += TICK) {
    const l = left.slice(t, t + TICK);
    const r = right.slice(t, t + TICK);
    if (t < 7 * TICK) convolver.listen(l, r);
    else convolver.process(l, r, TICK);
    const expected = t < 7 * TICK ? { left, right } : all;
    assert.deepEqual(l, expected.left.slice(t, t + TICK));
    assert.deepEqual(r, expected.right.slice(t, t + TICK));
  }
});
