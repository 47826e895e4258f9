import assert from 'node:assert/strict';
import { test } from 'node:test';
import { knowSong } from './know-song.js';

test('a song without kick and bass is known as empty, with reasons', () => {
  const known = knowSong({
    sampleRate_Hz: 48_000,
    frameCount: 48_000,
    kick: null,
    bass: null,
    rest: null,
    tracks: { kick: [], bass: [], rest: [] },
  });
  assert.deepEqual(known.hits, []);
  assert.deepEqual(known.notes, []);
  for (const reading of [known.tempo_bpm, known.fundamental_Hz, known.decay_ms]) {
    assert.equal(reading.kind, 'unmeasurable');
  }
});
