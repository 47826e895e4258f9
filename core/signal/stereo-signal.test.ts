import assert from 'node:assert/strict';
import { test } from 'node:test';
import { frameCountOf, isMono, midOf, monoSignal, sideOf, sliceOf, sumOf, type StereoSignal } from './stereo-signal.js';

const wide: StereoSignal = {
  left: Float32Array.of(1, 0.5, 0),
  right: Float32Array.of(0, -0.5, 1),
  sampleRate_Hz: 48_000,
};
const mono = monoSignal(Float32Array.of(0.25, 0.25), 48_000);

test('mono stands in both channels as the very same array', () => {
  assert.ok(isMono(mono) && !isMono(wide));
  assert.equal(mono.left, mono.right);
  assert.equal(frameCountOf(wide), 3);
});

test('mid and side by hand', () => {
  assert.deepEqual([...midOf(wide)], [0.5, 0, 0.5]);
  assert.deepEqual([...sideOf(wide)], [0.5, 0.5, -0.5]);
  assert.deepEqual([...midOf(mono)], [0.25, 0.25]);
  assert.deepEqual([...sideOf(mono)], [0, 0]);
});

test('mid plus side is left, mid minus side is right', () => {
  const mid = midOf(wide);
  const side = sideOf(wide);
  wide.left.forEach((left, i) => assert.equal(mid[i]! + side[i]!, left));
  wide.right.forEach((right, i) => assert.equal(mid[i]! - side[i]!, right));
});

test('a slice shares memory and stays mono', () => {
  const part = sliceOf(wide, 1, 3);
  assert.deepEqual([...part.left], [0.5, 0]);
  assert.deepEqual([...part.right], [-0.5, 1]);
  assert.equal(part.left.buffer, wide.left.buffer);
  assert.ok(isMono(sliceOf(mono, 0, 1)));
});

test('a sum is as long as its longest part, and mono only where all parts are', () => {
  const sum = sumOf([wide, mono])!;
  assert.deepEqual([...sum.left], [1.25, 0.75, 0]);
  assert.deepEqual([...sum.right], [0.25, -0.25, 1]);
  assert.equal(sum.sampleRate_Hz, 48_000);
  assert.ok(!isMono(sum) && isMono(sumOf([mono, mono])!));
  assert.equal(sumOf([]), null);
  assert.deepEqual([...wide.left], [1, 0.5, 0], 'the parts are not changed');
});
