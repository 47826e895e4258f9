import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal, type StereoSignal } from '../signal/stereo-signal.js';
import { SeededRandom } from '../units/seeded-random.js';
import { bassLine, PLAIN_LINE, randomLine, type Voice } from '../../tests/songs/synthetic-bass.js';
import { kickLine, kickSound, PLAIN_KICK } from '../../tests/songs/synthetic-kick.js';
import { oneShot } from '../../tests/songs/one-shots.js';
import { roleFromSound } from './role-from-sound.js';

const RATE_HZ = 44_100;

function line(voice: Voice, lowest_midi: number): StereoSignal {
  const shape = { ...PLAIN_LINE, noteCount: 14, lowest_midi, highest_midi: lowest_midi + 20 };
  const notes = randomLine(new SeededRandom(3), shape);
  return monoSignal(bassLine(notes, voice, RATE_HZ, notes[13]!.end_s + 0.3), RATE_HZ);
}

async function struck(name: string): Promise<StereoSignal> {
  const { left, sampleRate_Hz } = await oneShot(name);
  const hits = Array.from({ length: 7 }, (_, i) => ({ time_s: 0.2 + 0.5 * i, gain: 0.8 }));
  return monoSignal(kickLine(hits, Float64Array.from(left), sampleRate_Hz, 4), sampleRate_Hz);
}

test('kicks, recorded and synthetic, are kicks', async () => {
  const hits = Array.from({ length: 8 }, (_, i) => ({ time_s: 0.2 + 0.5 * i, gain: 0.8 }));
  const sound = kickSound({ ...PLAIN_KICK, click: 0.3 }, RATE_HZ, new SeededRandom(1));
  assert.equal(roleFromSound(monoSignal(kickLine(hits, sound, RATE_HZ, 4.5), RATE_HZ)).role, 'kick');
  for (const name of ['bd_haus', 'drum_heavy_kick', 'bd_klub']) {
    const guess = roleFromSound(await struck(name));
    assert.ok(guess.role === 'kick' && guess.confidence >= 0.6, `${name}: ${JSON.stringify(guess)}`);
  }
});

test('low voices are basses, the same voices two octaves up are not', () => {
  for (const voice of ['pluck', 'sub', 'driven'] as const) {
    const guess = roleFromSound(line(voice, 28));
    assert.ok(guess.role === 'bass' && guess.confidence >= 0.6, `${voice}: ${JSON.stringify(guess)}`);
    assert.equal(roleFromSound(line(voice, 60)).role, 'rest');
  }
});

test('a snare, a high tom and silence are neither', async () => {
  for (const name of ['drum_snare_hard', 'drum_tom_hi_hard']) {
    assert.equal(roleFromSound(await struck(name)).role, 'rest', name);
  }
  assert.ok(roleFromSound(monoSignal(new Float64Array(RATE_HZ), RATE_HZ)).confidence < 0.6);
});
