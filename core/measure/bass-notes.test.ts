import assert from 'node:assert/strict';
import { test } from 'node:test';
import { monoSignal } from '../signal/stereo-signal.js';
import { SeededRandom } from '../units/seeded-random.js';
import {
  bassLine,
  PLAIN_LINE,
  randomLine,
  VOICES,
  type LineShape,
  type Voice,
} from '../../tests/songs/synthetic-bass.js';
import { scoreNotes } from '../../tests/songs/score-notes.js';
import { findBassNotes } from './bass-notes.js';

const RATE_HZ = 48_000;

function scoreOf(voice: Voice, shape: LineShape, seed: number) {
  const truth = randomLine(new SeededRandom(seed), shape);
  const line = bassLine(truth, voice, RATE_HZ, truth[truth.length - 1]!.end_s + 0.4);
  const notes = findBassNotes(monoSignal(line, RATE_HZ), []);
  const score = scoreNotes(truth, notes);
  const cents = score.pairs.map(([i, j]) =>
    Math.abs(1200 * Math.log2(notes[j]!.frequency_Hz / truth[i]!.frequency_Hz)),
  );
  return { score, notes, worst_cents: Math.max(...cents) };
}

for (const [v, voice] of VOICES.entries()) {
  test(`a line of ${voice} notes is found`, () => {
    const { score } = scoreOf(voice, { ...PLAIN_LINE, noteCount: 24 }, 100 + v);
    assert.ok(score.f >= 0.95, `F ${score.f}, P ${score.precision}, R ${score.recall}`);
  });
}

test('silence holds no notes', () => {
  assert.deepEqual(findBassNotes(monoSignal(new Float64Array(RATE_HZ), RATE_HZ), []), []);
  assert.deepEqual(findBassNotes(monoSignal(new Float64Array(0), RATE_HZ), []), []);
});
