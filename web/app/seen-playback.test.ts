import assert from 'node:assert/strict';
import { test } from 'node:test';
import { AT_REST, isSeen } from './seen-playback.js';

test('a report is shown where it starts, stops, waits, jumps or has gone on by a twelfth of a second', () => {
  assert.equal(isSeen(AT_REST, { ...AT_REST, position: 4000 }), false);
  assert.equal(isSeen(AT_REST, { ...AT_REST, position: 4100 }), true);
  for (const change of [{ playing: true }, { waiting: true }, { preparing: 9 }]) {
    assert.equal(isSeen(AT_REST, { ...AT_REST, ...change }), true);
  }
});
