import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { OpenStem } from './open-stems.js';
import { clockOf } from './song-clock.js';

function stem(file: string, sampleRate_Hz: number, frameCount: number, timeReference_samples: number | null): OpenStem {
  const broadcast = timeReference_samples === null ? null : { timeReference_samples };
  return { file, facts: { sampleRate_Hz, frameCount, broadcast } } as unknown as OpenStem;
}

test('the rate most stems have; the length of the longest at that rate; conversions are told', () => {
  const clock = clockOf([
    stem('a', 48_000, 48_000, null),
    stem('b', 44_100, 44_101, null),
    stem('c', 48_000, 10, null),
  ]);
  assert.deepEqual([clock.sampleRate_Hz, clock.frameCount], [48_000, 48_002]);
  assert.match(clock.remarks.join(), /^b: 44\.1 kHz among 48 kHz/);
});

test('time references of all stems place them, the earliest at 0, each in its own samples and in the song’s', () => {
  const hour_s = 3600;
  const clock = clockOf([
    stem('a', 48_000, 48_000, hour_s * 48_000 + 24_000),
    stem('b', 44_100, 44_100, hour_s * 44_100),
    stem('c', 48_000, 48_000, hour_s * 48_000 + 48_000),
  ]);
  assert.deepEqual(
    ['a', 'b', 'c'].map((file) => clock.startOf(file)),
    [24_000, 0, 48_000],
  );
  assert.equal(clock.startInFile('a'), 24_000);
  assert.equal(clock.frameCount, 96_000);
  assert.equal(clock.startOf('a mix that is not summed'), 0);
});

test('references in some stems only, or more than 20 minutes apart: all at 0, and it is told', () => {
  const some = clockOf([stem('a', 48_000, 100, 5000), stem('b', 48_000, 100, null)]);
  assert.deepEqual([some.startOf('a'), some.frameCount], [0, 100]);
  assert.match(some.remarks.join(), /others do not/);
  const far = clockOf([stem('a', 48_000, 100, 0), stem('b', 48_000, 100, 1201 * 48_000)]);
  assert.deepEqual([far.startOf('b'), far.frameCount], [0, 100]);
  assert.match(far.remarks.join(), /20 minutes/);
  const near = clockOf([stem('a', 48_000, 100, 0), stem('b', 48_000, 100, 1199 * 48_000)]);
  assert.equal(near.startOf('b'), 1199 * 48_000);
});
