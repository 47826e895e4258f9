import assert from 'node:assert/strict';
import { test } from 'node:test';
import { describeStereoUnit } from '../../tests/contracts/stereo-unit-contract.js';
import { SeededRandom } from '../units/seeded-random.js';
import { DelayLine } from './delay-line.js';
import { TICK } from './stereo-unit.js';
import { ZeroPhaseFilter } from './zero-phase-filter.js';
import { lowPassSideLength } from './zero-phase-taps.js';

const longest = lowPassSideLength(150, 48_000);

function splitFilter(corner_Hz = 300): ZeroPhaseFilter {
  const filter = new ZeroPhaseFilter(48_000, longest, 2);
  filter.setLowPass(corner_Hz, 24, true);
  return filter;
}

describeStereoUnit('ZeroPhaseFilter', splitFilter);
describeStereoUnit('DelayLine', () => new DelayLine(300));
describeStereoUnit('DelayLine of 0', () => new DelayLine(0));

test('low-pass and what it leaves sum to a pure delay within 1e-12, whatever the corner', () => {
  for (const corner_Hz of [150, 300, 700]) {
    const random = new SeededRandom(1);
    const filter = splitFilter(corner_Hz);
    const delay = new DelayLine(filter.latencySamples);
    const input: number[] = [];
    for (let t = 0; t < 40; t++) {
      const low = Float64Array.from({ length: TICK }, () => random.between(-1, 1));
      input.push(...low);
      const dry = low.slice();
      filter.process(low, low.slice(), TICK);
      delay.process(dry, dry.slice(), TICK);
      for (let n = 0; n < TICK; n++) {
        const high = dry[n]! - low[n]!;
        const expected = input[t * TICK + n - filter.latencySamples] ?? 0;
        assert.ok(Math.abs(low[n]! + high - expected) < 1e-12);
      }
    }
  }
});

test('the taps stand about the declared latency', () => {
  const filter = splitFilter();
  const left = new Float64Array(TICK * 30);
  left[0] = 1;
  for (let t = 0; t < 30; t++) filter.process(left.subarray(t * TICK, (t + 1) * TICK), new Float64Array(TICK), TICK);
  const peak = left.indexOf(Math.max(...left));
  assert.equal(peak, filter.latencySamples);
  for (let k = 1; k < 500; k++) assert.ok(Math.abs(left[peak + k]! - left[peak - k]!) < 1e-15);
});
