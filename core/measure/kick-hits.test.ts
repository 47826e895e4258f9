import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { SeededRandom } from '../units/seeded-random.js';
import { median } from '../units/statistics.js';
import { addNoise, kickLine, kickSound, PLAIN_KICK } from '../../tests/songs/synthetic-kick.js';
import { scoreTimes } from '../../tests/songs/score-notes.js';
import { findKickHits } from './kick-hits.js';

const RATE_HZ = 48_000;
const GRID = Array.from({ length: 16 }, (_, i) => 0.25 + 0.5 * i);

// Measured for this project: ramps of 1, 10 and 20 ms are heard 0.3, 1.1 and 1.6 ms after the sound begins.
for (const [ramp_ms, late_ms] of [
  [1, 0.3],
  [10, 1.1],
  [20, 1.6],
] as const) {
  test(`a ramp of ${ramp_ms} ms is dated by its attack`, () => {
    const random = new SeededRandom(7);
    const sound = kickSound(
      { ...PLAIN_KICK, frequency_Hz: 50, startRatio: 3, decay_ms: 100, ramp_ms },
      RATE_HZ,
      random,
    );
    const truth = GRID.map((time_s, i) => ({ time_s, gain: 10 ** (-((i % 3) * 3) / 20) }));
    const line = kickLine(truth, sound, RATE_HZ, 9);
    addNoise(line, -75, random);
    const hits = findKickHits(monoSignal(line, RATE_HZ));
    const score = scoreTimes(
      GRID,
      hits.map((hit) => hit.time_s),
    );
    assert.equal(score.f, 1);
    const errors_ms = score.pairs.map(([i, j]) => 1000 * (hits[j]!.time_s - GRID[i]!));
    assert.ok(Math.abs(median(errors_ms) - late_ms) < 1, `median error ${median(errors_ms)} ms`);
    const steps_dB = hits.slice(1, 3).map((hit) => hits[0]!.level_dBFS - hit.level_dBFS);
    assert.ok(Math.abs(steps_dB[0]! - 3) < 0.1 && Math.abs(steps_dB[1]! - 6) < 0.1, `levels fall by ${steps_dB}`);
  });
}

test('silence and a single sample hold no hits', () => {
  assert.deepEqual(findKickHits(monoSignal(new Float64Array(RATE_HZ), RATE_HZ)), []);
  assert.deepEqual(findKickHits(monoSignal(new Float64Array(1), RATE_HZ)), []);
  assert.deepEqual(findKickHits(monoSignal(new Float64Array(0), RATE_HZ)), []);
});
