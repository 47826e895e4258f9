import assert from 'node:assert/strict';
import { test } from 'node:test';
import { defaultTreatment, withStage } from '../../../core/treatment/paths.js';
import { pointOf, stagesAt } from './stages-at-point.js';
import { stageAtWork } from './stage-at-work.js';

const notes = [
  {
    ...{ start_s: 1, end_s: 2, frequency_Hz: 55, level_dBFS: -15, harmonics_dB: [], fundamentalMissing: false },
    ...{ curve_Hz: null, curveStep_s: 0.01 },
  },
];
const plain = defaultTreatment({
  ...{ sampleRate_Hz: 48_000, notes },
  hits: [1.02, 3].map((time_s) => ({ time_s, level_dBFS: -12 })),
  files: { kick: ['k.wav'], bass: ['b.wav'], rest: [] },
});
const room = plain.bass.stages.find(({ stage }) => stage === 'make-room')!;
const even = plain.bass.stages.find(({ stage }) => stage === 'even')!;
const place = (stage: 'make-room' | 'even') => ({ role: 'bass' as const, track: null, lane: null, stage });
const treatment = withStage(
  withStage(plain, place('make-room'), { ...room, on: true, figures: { ...room.figures, cutPerHit_dB: [3, 0] } }),
  place('even'),
  { ...even, on: true },
);

test('a time is read as the hit that it stands on and the note that sounds', () => {
  assert.deepEqual(pointOf(treatment, 1.02), { hit: 0, note: 0 });
  assert.deepEqual(pointOf(treatment, 1.5), { hit: null, note: 0 });
  assert.deepEqual(pointOf(treatment, 2.5), { hit: null, note: null });
  assert.deepEqual(pointOf(treatment, null), { hit: null, note: null });
});

test('the stages that act at a point light: make room where this hit is cut, even where a note sounds', () => {
  assert.deepEqual([...stagesAt(treatment, { hit: 0, note: 0 })], ['bass.even', 'bass.make-room']);
  assert.deepEqual([...stagesAt(treatment, { hit: 1, note: null })], []);
  assert.deepEqual([...stagesAt(plain, { hit: 0, note: 0 })], []);
});

test('make room is drawn at the hit that is read, with the cut that this hit got', () => {
  const stage = treatment.bass.stages.find(({ stage }) => stage === 'make-room')!;
  assert.match(
    stageAtWork(treatment, stage, { hit: 1, note: null })!.title,
    /^Hit 2 of 2: the bass steps aside 0\u00a0dB/,
  );
  assert.match(stageAtWork(treatment, stage)!.title, /^The hit that needs most: the bass steps aside 3\u00a0dB/);
});
