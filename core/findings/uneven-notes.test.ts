import assert from 'node:assert/strict';
import { test } from 'node:test';
import { foundBy, knowledgeOf, measurementsOf, noteOf } from '../../tests/contracts/measurements-of.js';
import { measureEvenness } from '../measure/evenness.js';
import type { SongSound } from '../measure/song-sound.js';
import { monoSignal } from '../signal/stereo-signal.js';
import { midi_to_frequency } from '../units/notes.js';
import { resonantNote } from './resonant-note.js';
import { unevenNotes } from './uneven-notes.js';

const RATE = 8000;
const SCALE = [28, 30, 31, 33, 35, 36, 38, 40];

/** Measurements of a bass line of 0.3 s notes up and down a scale, each with its gain. */
function measuredLine(gains_dB: readonly number[]) {
  const samples = new Float64Array(Math.round((0.3 * gains_dB.length + 0.1) * RATE));
  const notes = gains_dB.map((gain_dB, i) => {
    const f = midi_to_frequency(SCALE[i % SCALE.length]!);
    const from = Math.round(0.3 * i * RATE);
    for (let n = 0; n < 0.28 * RATE; n++) {
      for (const h of [1, 2, 3]) {
        samples[from + n]! += ((0.1 * 10 ** (gain_dB / 20)) / h) * Math.sin((2 * Math.PI * h * f * n) / RATE);
      }
    }
    return noteOf(0.3 * i, 0.3 * i + 0.28, f);
  });
  const bass = monoSignal(samples, RATE);
  const tracks = { kick: [], bass: [], rest: [] };
  const sound: SongSound = { sampleRate_Hz: RATE, frameCount: samples.length, kick: null, bass, rest: null, tracks };
  return measurementsOf({ evenness: measureEvenness(sound, knowledgeOf({ notes })) });
}

/** Every third note up, every third down: no pitch is steadily off. */
const played = (range_dB: number) => Array.from({ length: 48 }, (_, i) => (((i % 3) - 1) * range_dB) / 2);
const onPitch = (gain_dB: number) => Array.from({ length: 48 }, (_, i) => (SCALE[i % 8] === 33 ? gain_dB : 0));

test('uneven notes are found beyond 6 dB of spread and 4 dB either way, the more the dearer', () => {
  assert.deepEqual(foundBy(unevenNotes, measuredLine(played(5))), []);
  assert.deepEqual(foundBy(unevenNotes, measuredLine(played(7.5))), []); // spread beyond, but nothing 4 dB off
  const [nine] = foundBy(unevenNotes, measuredLine(played(9)));
  const [sixteen] = foundBy(unevenNotes, measuredLine(played(16)));
  assert.ok(nine && sixteen && nine.severity > 0.3 && sixteen.severity > nine.severity);
  assert.match(
    nine.sentence,
    /^The bass notes spread over \d+\.\d\u00a0dB; 32 of 48\u00a0notes \(67\u00a0%\) lie more than 4\u00a0dB off/,
  );
  assert.equal(nine.where.notes.length, 32);
  assert.equal(nine.suggest.address, 'bass.even');
  assert.equal(nine.suggest.wish, 'evenness.spread_dB <= 3');
  assert.ok(nine.suggest.expected!.value <= 3.01);
  // 16 dB of range is 8 dB either way; a ride of 6 dB leaves 2 dB either way
  assert.ok(sixteen.suggest.expected!.value > 3.3 && sixteen.suggest.expected!.value < 4.7);
});

test('a steady pitch is no unevenness of playing, and uneven playing is no resonance', () => {
  assert.deepEqual(foundBy(unevenNotes, measuredLine(onPitch(5))), []);
  assert.deepEqual(foundBy(resonantNote, measuredLine(played(9))), []);
});

test('resonant and dead notes are found beyond 3 dB, named, with what riding them leaves', () => {
  assert.deepEqual(foundBy(resonantNote, measuredLine(onPitch(2.5))), []);
  assert.deepEqual(foundBy(resonantNote, measuredLine(onPitch(-2.5))), []);
  const [resonant] = foundBy(resonantNote, measuredLine(onPitch(5)));
  assert.ok(resonant);
  assert.match(resonant.sentence, /^A1 stands (4\.[5-9]|5\.[0-5])\u00a0dB above its neighbours, every time\.$/);
  assert.equal(resonant.where.notes.length, 6);
  assert.ok(resonant.severity > 0.4 && resonant.severity < 0.9);
  assert.match(resonant.suggest.wish, /^evenness\.pitchDeviation_dB <= 1\.5$/);
  assert.ok(resonant.suggest.expected!.value < 1);
  const [dead] = foundBy(resonantNote, measuredLine(onPitch(-8)));
  assert.match(dead!.sentence, /^A1 stands [78]\.\d\u00a0dB below its neighbours, every time\.$/);
  assert.ok(dead!.suggest.expected!.value > 1.4);
});

test('too few notes are said to be too few', () => {
  const few = measuredLine(played(16).slice(0, 9));
  assert.deepEqual(foundBy(unevenNotes, few), []);
  assert.match(unevenNotes.unjudged(few)!, /^too few to judge: 9\u00a0bass notes, 12 needed$/);
  assert.match(resonantNote.unjudged(few)!, /no pitch is played three times/);
  assert.equal(unevenNotes.unjudged(measuredLine(played(5))), null);
  assert.equal(unevenNotes.unjudged(measurementsOf({})), 'not part of this test');
});
