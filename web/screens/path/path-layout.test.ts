import assert from 'node:assert/strict';
import { test } from 'node:test';
import { pathLayout } from './path-layout.js';

test('strands lie where the window is wide, run down beside the open stage, then before it', () => {
  assert.deepEqual(
    [1400, 1160, 1159, 640, 639, 350].map((width) => pathLayout(width, 560).form),
    ['lying', 'lying', 'beside', 'beside', 'single', 'single'],
  );
});

test('strands and open stage fit one low window together; neither falls under what it can be read at', () => {
  for (const height of [440, 460, 540, 580, 700, 900]) {
    const { low, strands, figure } = pathLayout(1240, height);
    assert.equal(low, height < 540);
    assert.ok(strands.depth >= 276 && figure.height >= 110);
    assert.ok(strands.depth + figure.height + 48 <= height + 1, `at ${height} px`);
  }
});
