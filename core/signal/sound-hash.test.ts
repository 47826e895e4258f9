import assert from 'node:assert/strict';
import { test } from 'node:test';
import { SoundHash } from './sound-hash.js';

const sound = Float64Array.from({ length: 1000 }, (_, n) => Math.sin(n / 7));

function hashOf(left: Float64Array, right: Float64Array, blocks: readonly number[]): string {
  const hash = new SoundHash();
  let at = 0;
  for (const count of blocks) hash.add(left, right, at, (at += count));
  return hash.digest();
}

test('blocks do not matter, one last bit does, and so does a sample of silence', () => {
  const whole = hashOf(sound, sound, [1000]);
  assert.equal(hashOf(sound, sound, [1, 499, 7, 493]), whole);
  const changed = sound.slice();
  changed[700] = changed[700]! * (1 + Number.EPSILON);
  assert.notEqual(hashOf(sound, changed, [1000]), whole);
  assert.notEqual(hashOf(changed, sound, [1000]), whole);
  const zeros = new Float64Array(10);
  assert.notEqual(hashOf(zeros, zeros, [9]), hashOf(zeros, zeros, [10]));
  assert.equal(
    hashOf(
      zeros.map(() => -0),
      zeros,
      [10],
    ),
    hashOf(zeros, zeros, [10]),
  );
});
