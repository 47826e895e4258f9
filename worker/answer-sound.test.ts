import assert from 'node:assert/strict';
import { test } from 'node:test';
import { answerSound } from './answer-sound.js';

const rate = 48_000;
const ramp = Float32Array.from({ length: 10 }, (_, n) => n);
const kick = { file: 'K.wav', signal: { left: ramp, right: ramp, sampleRate_Hz: rate } };
const keys = { file: 'Keys.wav', signal: { left: ramp, right: ramp.map((v) => -v), sampleRate_Hz: rate } };
const pad = { file: 'Pad.wav', signal: { left: ramp, right: ramp, sampleRate_Hz: rate } };
const source = {
  sampleRate_Hz: rate,
  frameCount: 10,
  rest: null,
  tracks: { kick: [kick], bass: [], rest: [keys, pad] },
};

test('frames are fresh copies, padded past the end; mono stays one array', () => {
  const { kick: got } = answerSound(source, { from: 8, to: 12, files: { kick: ['K.wav'], bass: [], rest: [] } });
  assert.deepEqual([...got[0]!.left], [8, 9, 0, 0]);
  assert.equal(got[0]!.left, got[0]!.right);
  got[0]!.left[0] = 99;
  assert.equal(ramp[8], 8);
});

test('the bed is the sum of the rest; single files of it can be had too; an unknown file is named', () => {
  const files = { kick: [], bass: [], rest: ['rest', 'Keys.wav'] };
  const { rest } = answerSound(source, { from: 1, to: 3, files });
  assert.deepEqual([...rest[0]!.left, ...rest[0]!.right], [2, 4, 0, 0]);
  assert.deepEqual([...rest[1]!.right], [-1, -2]);
  const other = { kick: [], bass: ['No.wav'], rest: [] };
  assert.throws(() => answerSound(source, { from: 0, to: 1, files: other }), /No\.wav.*not at hand/);
});
