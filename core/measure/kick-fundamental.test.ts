import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { valueOf } from '../units/reading.js';
import { SeededRandom } from '../units/seeded-random.js';
import { kickLine, kickSound, PLAIN_KICK } from '../../tests/songs/synthetic-kick.js';
import { analysisChannel } from './analysis-channel.js';
import { kickDecay } from './kick-decay.js';
import { kickFundamental } from './kick-fundamental.js';
import { findKickHits } from './kick-hits.js';

const RATE_HZ = 48_000;

function known(f_Hz: number, fall_ms: number, decay_ms: number) {
  const recipe = { ...PLAIN_KICK, frequency_Hz: f_Hz, startRatio: 3, fall_ms, decay_ms };
  const truth = Array.from({ length: 6 }, (_, i) => ({ time_s: 0.25 + 1.2 * i, gain: 0.5 }));
  const line = kickLine(truth, kickSound(recipe, RATE_HZ, new SeededRandom(1), 1.1), RATE_HZ, 7.5);
  const signal = monoSignal(line, RATE_HZ);
  const channel = analysisChannel(signal);
  const hits = findKickHits(signal);
  assert.equal(hits.length, 6);
  return { fundamental: kickFundamental(channel, hits), decay: kickDecay(channel, hits) };
}

// Fundamentals of falling kicks, computed for this project from the closed form with an independent program: f1, 3 f1.
for (const [decay_ms, f_Hz, fall_ms, wanted_Hz] of [
  [90, 40, 6, 40.3],
  [90, 40, 12, 40.4],
  [90, 40, 25, 41.0],
  [90, 52, 6, 52.3],
  [90, 52, 12, 52.4],
  [90, 52, 25, 53.2],
  [90, 70, 6, 70.2],
  [90, 70, 12, 70.5],
  [90, 70, 25, 71.1],
  [200, 40, 6, 40.1],
  [200, 52, 12, 52.1],
  [200, 70, 25, 70.2],
] as const) {
  test(`a kick that settles at ${f_Hz} Hz within ${fall_ms} ms, decay ${decay_ms} ms`, () => {
    const { fundamental, decay } = known(f_Hz, fall_ms, decay_ms);
    const value_Hz = valueOf(fundamental);
    assert.ok(value_Hz !== null && Math.abs(value_Hz - wanted_Hz) <= 0.5, `fundamental ${value_Hz}`);
    // An exponential of time constant tau falls by 20 dB in 2.303 tau; within 6 % where the pitch falls at the same time.
    const exact_ms = Math.LN10 * decay_ms;
    const value_ms = valueOf(decay);
    assert.ok(value_ms !== null && Math.abs(value_ms / exact_ms - 1) < 0.06, `decay ${value_ms}, exact ${exact_ms}`);
  });
}

test('a kick that never settles has a reason in place of a pitch', () => {
  const { fundamental } = known(70, 50, 60);
  assert.equal(fundamental.kind, 'unmeasurable');
});

test('no hits give reasons, not numbers', () => {
  const channel = analysisChannel(monoSignal(new Float64Array(RATE_HZ), RATE_HZ));
  assert.equal(kickFundamental(channel, []).kind, 'unmeasurable');
  assert.equal(kickDecay(channel, []).kind, 'unmeasurable');
});
