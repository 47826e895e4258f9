import assert from 'node:assert/strict';
import { test } from 'node:test';
import { chunkPlan } from './chunk-plan.js';
import { outputGains } from './heard-mix.js';
import { afterSafeStart_dB, allowedGain_dB, gainOf, levelOf_dB, riseTime_s, SAFE_START_dB } from './monitor-level.js';

const ground = {
  position: 0,
  preparing: null,
  loop: null,
  frameCount: 1000,
  chunkFrames: 100,
  aheadFrames: 300,
  preRollFrames: 150,
};

test('chunks: what is ahead, the nearest first, never past the song; what lies behind may go', () => {
  assert.deepEqual(chunkPlan(ground, new Set()), { ask: [0, 1, 2], drop: [] });
  assert.deepEqual(chunkPlan({ ...ground, position: 450 }, new Set([0, 1, 4])), { ask: [5, 3, 6, 7], drop: [0, 1] });
  assert.deepEqual(chunkPlan({ ...ground, position: 990 }, new Set([8, 9])), { ask: [], drop: [] });
});

test('chunks: a place being made ready comes first, with its pre-roll, and the start of a loop is kept', () => {
  const { ask } = chunkPlan({ ...ground, preparing: 620 }, new Set());
  assert.deepEqual(ask.slice(0, 4), [4, 5, 6, 7]);
  const looped = chunkPlan({ ...ground, position: 700, loop: { from: 220, to: 900 } }, new Set());
  for (const index of [0, 1, 2, 3, 4, 5]) assert.ok(looped.ask.includes(index), `chunk ${index}`);
});

test('each side goes out alone and the match is on the treated side; the difference is not matched', () => {
  const hearing = { side: 'treated', solo: 'low end', difference: false, match_dB: -20 } as const;
  assert.deepEqual(outputGains(hearing), [0.1, 0.1, 0, 0, 0, 0, 0, 0]);
  assert.deepEqual(outputGains({ ...hearing, side: 'source' }), [0, 0, 0, 1, 1, 0, 0, 0]);
  assert.deepEqual(outputGains({ ...hearing, solo: 'bass', difference: true }), [0, 1, 0, 0, -1, 0, 0, 0]);
  assert.deepEqual(outputGains({ ...hearing, solo: 'low lane', match_dB: 0 }), [0, 0, 0, 0, 0, 0, 1, 0]);
});

test('monitor gain: locked at -12 dB, never above 0 dB, up slowly, down at once', () => {
  assert.equal(allowedGain_dB(-3, false), -12);
  assert.equal(allowedGain_dB(3, true), 0);
  assert.equal(allowedGain_dB(NaN, true), SAFE_START_dB);
  assert.equal(riseTime_s(-60, -20), 2);
  assert.equal(riseTime_s(-20, -12), 0.8);
  assert.ok(riseTime_s(-12, -40) < 0.05);
});

test('a safe start never ends above -20 dB and never louder than it was', () => {
  assert.equal(afterSafeStart_dB(-6), SAFE_START_dB);
  assert.equal(afterSafeStart_dB(-35), -35);
  assert.ok(Math.abs(levelOf_dB(gainOf(-13)) + 13) < 1e-9);
});
