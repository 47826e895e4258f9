import assert from 'node:assert/strict';
import { test } from 'node:test';
import { foundBy, measurementsOf } from '../../tests/contracts/measurements-of.js';
import { headroomOf } from '../measure/headroom.js';
import { monoSignal } from '../signal/stereo-signal.js';
import { noHeadroom } from './no-headroom.js';

const RATE = 16000;

function measuredSum(low_FS: number, high_FS: number) {
  const samples = Float64Array.from({ length: 2 * RATE }, (_, n) => {
    const t = (2 * Math.PI * n) / RATE;
    return low_FS * Math.sin(50 * t) + high_FS * Math.sin(1000 * t);
  });
  return measurementsOf({ headroom: headroomOf(monoSignal(samples, RATE)) });
}

test('no headroom is found where the sum passes -1 dBTP and the lows cost 3 dB, not where only one holds', () => {
  const [found] = foundBy(noHeadroom, measuredSum(0.5, 0.5));
  assert.match(
    found!.sentence,
    /^All stems together peak at \u22120\.0\u00a0dBTP|^All stems together peak at 0\.0\u00a0dBTP/,
  );
  assert.match(
    found!.sentence,
    /the lows cost 6\.0\u00a0dB of that; the sum has to come down by 1\.0\u00a0dB, or the lows do\.$/,
  );
  assert.ok(Math.abs(found!.severity - 1) < 0.05);
  assert.deepEqual(foundBy(noHeadroom, measuredSum(0.44, 0.44)), []); // -1.1 dBTP
  assert.deepEqual(foundBy(noHeadroom, measuredSum(0.28, 0.72)), []); // 2.85 dB
  assert.equal(foundBy(noHeadroom, measuredSum(0.3, 0.7)).length, 1); // 3.1 dB
});

test('silence is not judged', () => {
  assert.match(noHeadroom.unjudged(measuredSum(0, 0))!, /silent/);
});
