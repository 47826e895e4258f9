import assert from 'node:assert/strict';
import { test } from 'node:test';
import { createStage } from '../../tests/contracts/run-stage.js';
import { saturate } from '../treatment/saturate.js';
import { SeededRandom } from '../units/seeded-random.js';
import { ChannelPair } from './channel-pair.js';
import { PartitionedConvolver } from './partitioned-convolver.js';
import type { StateTape } from './state-tape.js';
import { TICK, type StereoUnit } from './stereo-unit.js';

const TICKS = 40;
const PARTING = 20;

function noise(seed: number): Float64Array {
  const random = new SeededRandom(seed);
  return Float64Array.from({ length: TICKS * TICK }, () => random.between(-0.5, 0.5));
}

/** Like another sound up to the middle of a tick. */
function likeAtFirst(other: Float64Array, seed: number): Float64Array {
  const from = PARTING * TICK + 77;
  const sound = noise(seed);
  sound.set(other.subarray(0, from));
  return sound;
}

function run(unit: StereoUnit, left: Float64Array, right: Float64Array) {
  const out = { left: left.slice(), right: right.slice() };
  for (let t = 0; t < left.length; t += TICK) {
    unit.process(out.left.subarray(t, t + TICK), out.right.subarray(t, t + TICK), TICK);
    unit.flush();
  }
  return out;
}

function convolver(): StereoUnit {
  const unit = new PartitionedConvolver(900, 2);
  unit.spareTaps.set(noise(1).subarray(0, 900));
  unit.commit(true);
  return unit;
}

const units: readonly (readonly [string, () => StereoUnit])[] = [
  ['a long filter', convolver],
  ['saturate', () => createStage(saturate, { settings: { drive_dB: 12, bias: 0.2 } })],
];

for (const [name, create] of units) {
  test(`${name}: channels that are alike at first have the bits that each has beside any other`, () => {
    const left = noise(2);
    const right = likeAtFirst(left, 3);
    const together = run(create(), left, right);
    const stranger = noise(4);
    assert.deepEqual(together.left, run(create(), left, stranger).left);
    assert.deepEqual(together.right, run(create(), stranger, right).right);
  });
}

test('the right is worked on from the first tick that differs on, until the reset', () => {
  const work = () => ({ passState: (_tape: StateTape) => undefined });
  const pair = new ChannelPair(work(), work());
  const sound = noise(5).subarray(0, TICK);
  const other = sound.slice();
  other[TICK - 1] = 0;
  assert.deepEqual(
    [sound, other, sound].map((right) => pair.hear(sound, right, TICK)),
    [false, true, true],
  );
  pair.reset();
  assert.equal(pair.hear(sound, sound, TICK), false);
});
