import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { Work } from '../state/worker-client.js';
import { progressSentence, soFarSentence } from './progress-sentence.js';

const reading: Work = {
  task: 'inspect',
  what: 'reading and conforming',
  done: 2,
  total: 7,
  solving: null,
  left_s: null,
};
const best = { statistic: 'carry.laptop', name: 'carry on a laptop', value: -12.94, unit: 'LU' };
const solving: Work = {
  ...{ task: 'solve', what: 'solving bass.low.harmonics', done: 23, total: 60, left_s: 8.2 },
  solving: { stage: 'bass.low.harmonics', renders: 23, aboutRenders: 60, best },
};

test('what is done, how much of how much, and how long it will take', () => {
  assert.equal(progressSentence(reading), 'Reading and conforming: 2 of 7.');
  assert.equal(progressSentence({ ...reading, total: 1 }), 'Reading and conforming.');
  assert.equal(progressSentence(solving), 'Solving harmonics: 23 of about 60 renders, 9\u00a0s left.');
  const room = { ...solving.solving!, stage: 'bass.make-room' };
  assert.match(progressSentence({ ...solving, solving: room }), /^Solving make room: /);
  assert.match(progressSentence({ ...solving, left_s: 130 }), /3\u00a0min left/);
  assert.equal(progressSentence({ ...reading, what: 'measuring ', done: 7, left_s: 0 }), 'Measuring: 7 of 7.');
});

test('the best so far is said with its unit', () => {
  assert.equal(soFarSentence(solving), 'So far \u221212.9 LU, carry on a laptop');
  assert.equal(soFarSentence(reading), null);
});
