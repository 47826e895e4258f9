import assert from 'node:assert/strict';
import { test } from 'node:test';
import { findFaults } from '../../core/findings/find-faults.js';
import { measureSong } from '../../core/measure/measurements.js';
import type { Knowledge } from '../../core/measure/song-sound.js';
import { balladSong, houseSong, soulSong } from './clean-songs.js';
import { knownByEar, knownTruth } from './known-truth.js';
import { scoreNotes, scoreTimes } from './score-notes.js';
import type { TestSong } from './song-of-parts.js';

/** The finding's sentences, so that a false alarm can be read. */
function alarms(song: TestSong, known: Knowledge): string[] {
  return findFaults(measureSong(song.sound, known), []).findings.map(({ sentence }) => sentence);
}

for (const make of [soulSong, houseSong, balladSong]) {
  const song = make();
  const byEar = knownByEar(song);

  test(`${song.name}: nothing to mend, by the true lists`, () => {
    assert.deepEqual(alarms(song, knownTruth(song)), []);
  });

  test(`${song.name}: nothing to mend, by the lists the program finds`, () => {
    assert.deepEqual(alarms(song, byEar), []);
  });

  test(`${song.name}: every hit is found within 5 ms, notes at F >= 0.95, the tempo within 0.25 bpm`, () => {
    const hits = scoreTimes(
      song.truth.hits.map(({ time_s }) => time_s),
      byEar.hits.map(({ time_s }) => time_s),
      0.005,
    );
    assert.equal(hits.f, 1);
    assert.ok(scoreNotes(song.truth.notes, byEar.notes).f >= 0.95);
    assert.ok(byEar.tempo_bpm.kind === 'figure');
    assert.ok(Math.abs(byEar.tempo_bpm.value - song.truth.tempo_bpm) <= 0.25);
  });
}
