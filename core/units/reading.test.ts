import assert from 'node:assert/strict';
import { test } from 'node:test';
import { figure, isMeasured, unmeasurable, valueOf } from './reading.js';

test('a figure is finite, with or without its interval', () => {
  assert.deepEqual(figure(1.5), { kind: 'figure', value: 1.5 });
  assert.deepEqual(figure(1.5, { low: 1, high: 2 }), { kind: 'figure', value: 1.5, low: 1, high: 2 });
  for (const bad of [NaN, Infinity, -Infinity]) assert.throws(() => figure(bad), RangeError);
});

test('what cannot be measured has a reason and no value', () => {
  const none = unmeasurable('no bass');
  assert.deepEqual(none, { kind: 'unmeasurable', reason: 'no bass' });
  assert.equal(valueOf(none), null);
  assert.equal(valueOf(undefined), null);
  assert.equal(valueOf(figure(0)), 0);
  assert.equal(isMeasured(none), false);
  assert.equal(isMeasured(figure(0)), true);
});
