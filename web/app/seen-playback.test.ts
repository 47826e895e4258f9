import assert from 'node:assert/strict';
import { test } from 'node:test';
import { AT_REST, isSeen, seenPosition } from './seen-playback.js';

test('a report is shown where it starts, stops, waits, jumps or has gone on by a twelfth of a second', () => {
  assert.equal(isSeen(AT_REST, { ...AT_REST, position: 4000 }), false);
  assert.equal(isSeen(AT_REST, { ...AT_REST, position: 4100 }), true);
  for (const change of [{ playing: true }, { waiting: true }, { preparing: 9 }]) {
    assert.equal(isSeen(AT_REST, { ...AT_REST, ...change }), true);
  }
});

test('before it sounds the place that is made ready is shown, while it sounds the place that is heard', () => {
  const jumping = { ...AT_REST, position: 100, preparing: 9000 };
  assert.equal(seenPosition(jumping), 9000);
  assert.equal(seenPosition({ ...jumping, playing: true, waiting: true }), 9000);
  assert.equal(seenPosition({ ...jumping, playing: true }), 100);
  assert.equal(seenPosition({ ...AT_REST, position: 100 }), 100);
});
