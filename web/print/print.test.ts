import assert from 'node:assert/strict';
import { test } from 'node:test';
import { withPrintChoices } from '../../core/job/print-choices.js';
import type { PrintChoices } from '../../core/job/print-song.js';
import { emptySession } from '../../core/session/session-format.js';
import type { Role, Stem } from '../../core/song/song.js';
import { defaultTreatment } from '../../core/treatment/paths.js';
import { nextVersion, plannedPrints, saySizes } from './planned-prints.js';
import { choicesOf, formOf } from './print-form.js';

const PRINT_AT_FIRST = formOf(emptySession().printing);

test('a form left as it is asks for what is printed without one', () => {
  assert.deepEqual(choicesOf(PRINT_AT_FIRST), { choices: { depth: null, gain_dB: 0 } });
});

test('what is chosen is asked for; roles in the order of the song', () => {
  const form = {
    ...PRINT_AT_FIRST,
    roles: ['bass', 'kick'] as const,
    singleStems: false,
    gain: '\u22121.5 dB',
    name: 'x {name}',
  };
  const choices: PrintChoices = {
    ...{ depth: '16', gain_dB: -1.5, roles: ['kick', 'bass'], singleStems: false, name: 'x {name}' },
  };
  assert.deepEqual(choicesOf({ ...form, depth: '16' }), { choices });
  const next = formOf(withPrintChoices(emptySession(), choices).printing);
  assert.deepEqual(choicesOf(next), { choices }, 'the next print begins with it');
  assert.equal(next.gain, '\u22121.5');
});

test('what cannot be printed is said', () => {
  for (const wrong of [{ roles: [] }, { gain: 'loud' }, { gain: '90' }, { name: 'bass' }, { name: '../{name}' }]) {
    assert.ok('problem' in choicesOf({ ...PRINT_AT_FIRST, ...wrong }), JSON.stringify(wrong));
  }
});

function stem(file: string, role: Role): Stem {
  return {
    ...{ file, role, because: '', confidence: 1, channels: 2, bitDepth: '24', sampleRate_Hz: 48_000 },
    ...{ frameCount: 48_000, duration_s: 1, start_samples: 0, faults: [] },
  };
}

test('what will be written and how large it is: frames times channels times bytes', () => {
  const stems = [stem('Kick.wav', 'kick'), stem('Bass.wav', 'bass'), stem('Mix.wav', 'mix')];
  const files = { kick: ['Kick.wav'], bass: ['Bass.wav'], rest: [] };
  const plain = defaultTreatment({ sampleRate_Hz: 48_000, notes: [], hits: [], files });
  const bass = { ...plain.bass, stages: plain.bass.stages.map((one) => ({ ...one, on: one.stage === 'trim' })) };
  const song = {
    stems,
    sampleRate_Hz: 48_000,
    treatment: { ...plain, bass },
    sizes_bytes: new Map([['Kick.wav', 999]]),
  };
  const prints = plannedPrints(song, { depth: '16' });
  assert.deepEqual(prints, [
    { name: 'Kick.wav', format: 'copied, the same bytes', size_bytes: 999 },
    { name: 'Bass.wav', format: '16-bit, stereo', size_bytes: 192_000 },
  ]);
  assert.equal(saySizes(prints), '0.2\u00a0MB');
  assert.match(saySizes(plannedPrints({ ...song, sizes_bytes: new Map() }, { depth: null })), /and the copies$/);
});

test('the next print gets the next number', () => {
  assert.equal(nextVersion([]), 'v1');
  assert.equal(nextVersion([{ name: 'v2' }, { name: 'v10' }]), 'v11');
});
