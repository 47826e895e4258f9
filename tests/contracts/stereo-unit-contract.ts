import assert from 'node:assert/strict';
import { test } from 'node:test';
import { StateTape } from '../../core/dsp/state-tape.js';
import { TICK, type StereoUnit } from '../../core/dsp/stereo-unit.js';
import { SeededRandom } from '../../core/units/seeded-random.js';

/**
 * The suite every unit passes, by one line beside its own tests. Units run in ticks of TICK frames with a flush after each.
 */
export function describeStereoUnit(name: string, create: () => StereoUnit, options: { mixesChannels?: boolean } = {}) {
  const ticks = 96;
  const noise = (seed: number) => {
    const random = new SeededRandom(seed);
    return Float64Array.from({ length: ticks * TICK }, () => random.between(-0.5, 0.5));
  };
  const run = (unit: StereoUnit, left: Float64Array, right: Float64Array) => {
    const out = { left: left.slice(), right: right.slice() };
    for (let t = 0; t < left.length; t += TICK) {
      unit.process(out.left.subarray(t, t + TICK), out.right.subarray(t, t + TICK), TICK);
      unit.flush();
    }
    return out;
  };

  test(`${name}: reset equals new`, () => {
    const used = create();
    run(used, noise(1), noise(2));
    used.reset();
    assert.deepEqual(run(used, noise(3), noise(4)), run(create(), noise(3), noise(4)));
  });

  test(`${name}: another one goes on from a tape with the same bits`, () => {
    const first = create();
    run(first, noise(12), noise(13));
    const tape = new StateTape(first);
    tape.write(first);
    const onward = run(first, noise(14), noise(15));
    const second = create();
    run(second, noise(16), noise(17));
    second.reset();
    tape.read(second);
    assert.deepEqual(run(second, noise(14), noise(15)), onward);
  });

  test(`${name}: silence in, silence out, and no denormal is left after a burst`, () => {
    const unit = create();
    const silent = run(unit, new Float64Array(TICK * 8), new Float64Array(TICK * 8));
    assert.ok(silent.left.every((v) => v === 0) && silent.right.every((v) => v === 0));
    run(unit, noise(5), noise(6));
    let tail = run(unit, new Float64Array(TICK * 6000), new Float64Array(TICK * 6000));
    tail = { left: tail.left.subarray(-TICK), right: tail.right.subarray(-TICK) };
    for (const value of [...tail.left, ...tail.right]) {
      assert.ok(value === 0 || Math.abs(value) > 1e-300, `denormal ${value}`);
    }
  });

  test(`${name}: NaN in the input is gone once it has passed`, () => {
    const unit = create();
    const bad = noise(7);
    bad[1000] = NaN;
    run(unit, bad, noise(8));
    run(unit, new Float64Array(TICK * 2000), new Float64Array(TICK * 2000));
    const after = run(unit, noise(9), noise(10));
    assert.ok(after.left.every(Number.isFinite) && after.right.every(Number.isFinite));
  });

  if (!options.mixesChannels) {
    test(`${name}: no channel leaks into the other`, () => {
      const unit = create();
      const out = run(unit, noise(11), new Float64Array(ticks * TICK));
      assert.ok(out.right.every((v) => v === 0));
    });
  }
}
