import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { LevelCourse } from '../../../core/measure/level-course.js';
import type { Note } from '../../../core/song/song.js';
import { staffOf } from '../../strip/notes-row.js';
import { foundLine } from './found-line.js';
import type { FoundSong } from './found-song.js';
import { stemBars, tellingBars } from './stem-bars.js';

const noteAt = (start_s: number, frequency_Hz = 55): Note => ({
  start_s,
  end_s: start_s + 0.4,
  frequency_Hz,
  level_dBFS: -15,
  harmonics_dB: [],
  fundamentalMissing: false,
  curve_Hz: null,
  curveStep_s: 0.01,
});

/** 120 bpm: a bar lasts 2 s; sixteen bars. */
const songOf = (hits_s: readonly number[], notes: readonly Note[] = []): FoundSong => ({
  grid: { beat_s: 0.5, bar1_s: 0 },
  duration_s: 32,
  staff: staffOf(notes, []),
  hits: hits_s.map((time_s) => ({ time_s, level_dBFS: -12 })),
});

const courseOf = (level: (time_s: number) => number): LevelCourse => ({
  file: 'a.wav',
  step_s: 0.05,
  level_dBFS: Float32Array.from({ length: 640 }, (_, n) => level(n * 0.05)),
});

const strokesIn = (drawing: ReturnType<typeof stemBars>, ink: string): string =>
  drawing.strokes
    .filter((stroke) => stroke.ink === ink)
    .map(({ path }) => path)
    .join('');

test('the bars that are drawn are the four that hold most hits and notes, the first of equals', () => {
  assert.deepEqual(tellingBars(songOf([1, 9, 10, 11])), { from_s: 8, to_s: 16 });
  assert.deepEqual(tellingBars(songOf([1, 9])), { from_s: 0, to_s: 8 });
  assert.deepEqual(tellingBars({ ...songOf([20]), grid: null }), { from_s: 16, to_s: 24 });
});

const place = { view: { from_s: 0, to_s: 8 }, width: 80, height: 26 };

test('a kick stem bears an upright for each hit that sounds in it, as tall as it is loud, and none where it is silent', () => {
  const course = courseOf((time_s) => (time_s >= 4 ? -90 : time_s < 2 ? -10 : -31));
  const kick = strokesIn(stemBars('kick', course, songOf([1, 3, 5]), place), 'kick');
  assert.equal(kick, 'M10 25V1M30 25V13', 'half as tall 21 dB under its loudest, nothing at 5 s');
});

test('a bass stem has its notes level at their pitch, dotted where the stem is silent', () => {
  const course = courseOf((time_s) => (time_s < 2 ? -12 : -90));
  const drawing = stemBars('bass', course, songOf([], [noteAt(0.5), noteAt(4)]), place);
  const sounds = strokesIn(drawing, 'bass');
  const silent = strokesIn(drawing, 'ink-3');
  assert.match(sounds, /^M5 /);
  assert.equal(sounds.split('H').length, 2);
  assert.match(silent, /^M40 /);
});

test('a stem that was not heard is left blank; one of the rest is a plain level line', () => {
  assert.equal(stemBars('rest', null, songOf([]), place).strokes.length, 0);
  const line = strokesIn(
    stemBars(
      'rest',
      courseOf(() => -20),
      songOf([]),
      place,
    ),
    'rest',
  );
  assert.ok(line.split('L').length > 100);
});

test('in the line of the whole song every hit stands, and a stroke of the kick without a hit shows under it', () => {
  const course = courseOf((time_s) => (Math.abs(time_s - 8) < 0.06 || Math.abs(time_s - 24) < 0.06 ? -10 : -80));
  const drawing = foundLine(songOf([8]), [course], 320);
  const xs = (ink: string): Set<number> =>
    new Set([...strokesIn(drawing, ink).matchAll(/M([\d.]+) /g)].map((match) => Math.round(Number(match[1]) / 10)));
  assert.deepEqual([...xs('kick')], [8]);
  assert.deepEqual([...xs('ink-3')], [8, 24], 'the missed hit at 24 s shows');
});
