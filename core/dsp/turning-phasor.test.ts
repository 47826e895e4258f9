import assert from 'node:assert/strict';
import { test } from 'node:test';
import { turningPhasor } from './turning-phasor.js';

test('a turning phasor stays on the circle, at the angle', () => {
  const count = 20_000;
  const cos = new Float64Array(count + 1);
  const sin = new Float64Array(count + 1);
  for (const [first, step] of [
    [0.3, 0.0001],
    [0, 0.237],
    [-2.5, -0.4999],
  ] as const) {
    turningPhasor(first, step, count, cos, sin);
    for (let n = 0; n < count; n++) {
      const angle = 2 * Math.PI * ((first + n * step) % 1);
      assert.ok(Math.abs(cos[n]! - Math.cos(angle)) < 2e-11, `cos ${n}`); // the angle is rounded at 1e4 cycles
      assert.ok(Math.abs(sin[n]! - Math.sin(angle)) < 2e-11, `sin ${n}`);
    }
    assert.equal(cos[count], 0);
  }
});
