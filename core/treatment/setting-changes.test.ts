import assert from 'node:assert/strict';
import { test } from 'node:test';
import { defaultTreatment, parseAddress, stageAt } from './paths.js';
import { treatmentsFrom, withChange } from './setting-changes.js';

const files = { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] };
const plain = defaultTreatment({ sampleRate_Hz: 48_000, notes: [], hits: [], files });
const trimOf = (treatment: typeof plain) => stageAt(treatment, parseAddress('bass.trim').address)!;

test('changes are put in order, moved up to the grid of 128, and add up', () => {
  const list = treatmentsFrom(plain, [
    { sample: 300, address: 'bass.trim.on', value: true },
    { sample: 128, address: 'bass.trim.gain_dB', value: -3 },
    { sample: 257, address: 'bass.trim.gain_dB', value: -6 },
  ]);
  assert.deepEqual(
    list.map(({ sample, treatment }) => [sample, trimOf(treatment).on, trimOf(treatment).settings['gain_dB']]),
    [
      [128, false, -3],
      [384, true, -6],
    ],
  );
  assert.equal(trimOf(plain).settings['gain_dB'], 0, 'the treatment itself is left as it is');
});

test('a change that names nothing, or a switch that is no switch, is refused with a sentence', () => {
  assert.throws(() => withChange(plain, { address: 'bass.trim', value: 1 }), /names no setting/);
  assert.throws(() => withChange(plain, { address: 'bass["Other.wav"].align.on', value: true }), /names no setting/);
  assert.throws(() => withChange(plain, { address: 'bass.trim.on', value: 1 }), /neither true nor false/);
});
