import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { SeededRandom } from '../units/seeded-random.js';
import { median } from '../units/statistics.js';
import { addDrumBleed, addNoise, attackOf, kickLine, kickSound, PLAIN_KICK } from '../../tests/songs/synthetic-kick.js';
import { scoreTimes } from '../../tests/songs/score-notes.js';
import { busyKick } from '../../tests/songs/busy-kick.js';
import { oneShot } from '../../tests/songs/one-shots.js';
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

test('doubles over a ringing, beating tail are found and the snare in the kick is not', () => {
  const random = new SeededRandom(3);
  const recipe = { ...PLAIN_KICK, frequency_Hz: 58, decay_ms: 250, click: 0.4, beat_Hz: 6 };
  const sound = kickSound(recipe, RATE_HZ, random, 0.9);
  const truth = GRID.flatMap((time_s, i) => [
    { time_s, gain: 0.8 },
    ...(i % 4 === 1 ? [{ time_s: time_s + 0.1, gain: 0.7 }] : []),
  ]);
  const line = kickLine(truth, sound, RATE_HZ, 9);
  addDrumBleed(line, RATE_HZ, 0.47, 0.2, random);
  addNoise(line, -75, random);
  const hits = findKickHits(monoSignal(line, RATE_HZ));
  const score = scoreTimes(
    truth.map((hit) => hit.time_s),
    hits.map((hit) => hit.time_s),
  );
  assert.ok(score.f >= 0.98, `F ${score.f}, P ${score.precision}, R ${score.recall}`);
  const errors_ms = score.pairs.map(([i, j]) =>
    Math.abs(1000 * (hits[j]!.time_s - truth[i]!.time_s - attackOf(sound, RATE_HZ))),
  );
  assert.ok(median(errors_ms) <= 2 && Math.max(...errors_ms) <= 5, `errors ${errors_ms}`);
});

for (const name of ['bd_haus', 'bd_808', 'bd_zome', 'drum_bass_hard', 'drum_heavy_kick']) {
  test(`the recorded ${name} is dated by its attack`, async () => {
    const { left, sampleRate_Hz } = await oneShot(name);
    const sound = Float64Array.from(left);
    const truth = GRID.slice(0, 8).map((time_s, i) => ({ time_s, gain: i % 2 === 0 ? 0.8 : 0.5 }));
    const line = kickLine(truth, sound, sampleRate_Hz, 5);
    addNoise(line, -80, new SeededRandom(1));
    const hits = findKickHits(monoSignal(line, sampleRate_Hz));
    const score = scoreTimes(
      truth.map((hit) => hit.time_s),
      hits.map((hit) => hit.time_s),
    );
    assert.ok(score.f >= 0.98, `F ${score.f}, P ${score.precision}, R ${score.recall}`);
    const attack_s = attackOf(sound, sampleRate_Hz);
    const errors_ms = score.pairs.map(([i, j]) => Math.abs(1000 * (hits[j]!.time_s - truth[i]!.time_s - attack_s)));
    assert.ok(median(errors_ms) <= 5, `errors ${errors_ms}`);
  });
}

// Seeds kept apart while the finder was made. Hits within 12 dB of the median must be found; ghosts under that are not judged.
test('hits of twelve busy stems are found under tails, hats and snares, and dated by their attacks', () => {
  let found = 0;
  let extra = 0;
  let missed = 0;
  const errors_ms: number[] = [];
  for (let seed = 7001; seed <= 7012; seed++) {
    const { line, sampleRate_Hz, hits_s, ghosts_s } = busyKick(seed);
    const times_s = findKickHits(monoSignal(line, sampleRate_Hz)).map((hit) => hit.time_s);
    const judged_s = times_s.filter((t) => !ghosts_s.some((ghost_s) => Math.abs(ghost_s - t) < 0.05));
    const { pairs } = scoreTimes(hits_s, judged_s);
    found += pairs.length;
    extra += judged_s.length - pairs.length;
    missed += hits_s.length - pairs.length;
    for (const [i, j] of pairs) errors_ms.push(Math.abs(1000 * (judged_s[j]! - hits_s[i]!)));
  }
  const f = (2 * found) / (2 * found + extra + missed);
  assert.ok(f >= 0.98, `F ${f}: ${found} found, ${extra} extra, ${missed} missed`);
  assert.ok(median(errors_ms) <= 2, `median error ${median(errors_ms)} ms`);
  assert.ok(Math.max(...errors_ms) <= 5, `largest error ${Math.max(...errors_ms)} ms`);
});
