import assert from 'node:assert/strict';
import { test } from 'node:test';
import { loopEndingAt, loopStartingAt, nextOf } from './loop-at.js';

test('a loop starts at the listening place and ends where it ended, else four beats on, within the song', () => {
  assert.deepEqual(loopStartingAt(null, 10, 0.5, 60), [10, 12]);
  assert.deepEqual(loopStartingAt([5, 20], 10, 0.5, 60), [10, 20]);
  assert.deepEqual(loopStartingAt([5, 8], 10, 0.5, 60), [10, 12]);
  assert.deepEqual(loopStartingAt(null, 59, 0.5, 60), [59, 60]);
});

test('a loop ends at the listening place and is never empty', () => {
  assert.deepEqual(loopEndingAt(null, 10, 0.5), [8, 10]);
  assert.deepEqual(loopEndingAt([5, 20], 10, 0.5), [5, 10]);
  assert.deepEqual(loopEndingAt([12, 20], 10, 0.5), [8, 10]);
  assert.deepEqual(loopEndingAt(null, 0, 0.5), [0, 0.5]);
});

test('the next of a list goes round', () => {
  assert.equal(nextOf(['a', 'b', 'c'], 'c', 1), 'a');
  assert.equal(nextOf(['a', 'b', 'c'], 'a', -1), 'c');
  assert.equal(nextOf(['a', 'b'], 'z', 1), 'a');
});
