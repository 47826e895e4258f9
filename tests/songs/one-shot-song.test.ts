import assert from 'node:assert/strict';
import { test } from 'node:test';
import { findKickHits } from '../../core/measure/kick-hits.js';
import { oneShotSong } from './one-shot-song.js';
import { scoreTimes } from './score-notes.js';

test('a seed gives one song, of 20 to 30 s, whose truth is where the kicks are', async () => {
  const song = await oneShotSong(2);
  const again = await oneShotSong(2);
  assert.deepEqual(again.sound.bass!.left, song.sound.bass!.left);
  const duration_s = song.sound.frameCount / song.sound.sampleRate_Hz;
  assert.ok(duration_s >= 20 && duration_s <= 30, `${duration_s} s`);
  const found = findKickHits(song.sound.kick!).map(({ time_s }) => time_s);
  assert.ok(
    scoreTimes(
      song.truth.hits.map(({ time_s }) => time_s),
      found,
      0.005,
    ).f >= 0.98,
  );
});

test('another seed gives another song', async () => {
  const [one, other] = await Promise.all([oneShotSong(2), oneShotSong(5)]);
  assert.notEqual(one.truth.tempo_bpm, other.truth.tempo_bpm);
});
