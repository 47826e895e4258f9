import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PlainError } from '../units/plain-error.js';
import {
  defaultTreatment,
  formatAddress,
  isLinear,
  isTreated,
  kickTurnCorner_Hz,
  parseAddress,
  stageAt,
  withStage,
} from './paths.js';
import { STAGES } from './stage-registry.js';
import type { SettingValue, Treatment } from './treatment.js';

const plain = defaultTreatment({
  sampleRate_Hz: 48_000,
  notes: [],
  hits: [],
  files: { kick: ['a.wav'], bass: ['Bass "Amp".wav'], rest: ['k.wav'] },
});

function set(treatment: Treatment, place: string, settings: Record<string, SettingValue> = {}, on = true): Treatment {
  const { address } = parseAddress(place);
  const old = stageAt(treatment, address)!;
  return withStage(treatment, address, { ...old, on, settings: { ...old.settings, ...settings } });
}

test('addresses are read as they are written', () => {
  for (const text of [
    'kick.clean',
    'bass.low.steady.ratio',
    'bass.high.widen.sideToMid_dB',
    'bass["Bass \\"Amp\\".wav"].align.delay_ms',
    'rest["a].b\\\\.wav"].clean',
  ]) {
    const { address, key } = parseAddress(text);
    assert.equal(formatAddress(address, key ?? undefined), text);
  }
  assert.equal(parseAddress('bass["Bass \\"Amp\\".wav"].align').address.track, 'Bass "Amp".wav');
});

test('bad addresses are refused', () => {
  for (const text of [
    '',
    'snare.clean',
    'bass',
    'bass.',
    'bass.low',
    'bass.no-such',
    'bass.trim.colour',
    'bass[x].align',
    'bass.trim.gain_dB.more',
  ]) {
    assert.throws(() => parseAddress(text), PlainError, text);
  }
});

test('the default treatment has every registered stage of the bass in its place, off', () => {
  const { bass } = plain;
  const standing = new Set(
    [...bass.tracks[0]!.stages, ...bass.stages, ...bass.lanes.low, ...bass.lanes.high].map((s) => s.stage),
  );
  for (const stage of STAGES) assert.ok(standing.has(stage.id) || stage.id === 'shape', stage.id);
  for (const role of ['kick', 'bass', 'rest'] as const) assert.equal(isTreated(plain, role), false);
});

test('a linked low cut goes to kick and bass alike, an unlinked one does not', () => {
  const cut = set(plain, 'bass.clean', { lowCut: true, corner_Hz: 17 });
  const kick = stageAt(cut, parseAddress('kick.clean').address)!;
  assert.equal(kick.on, true);
  assert.equal(kick.settings['corner_Hz'], 17);
  const single = set(plain, 'bass.clean', { lowCut: true, linked: false });
  assert.equal(stageAt(single, parseAddress('kick.clean').address)!.on, false);
  assert.equal(stageAt(set(cut, 'kick.clean', {}, false), parseAddress('bass.clean').address)!.on, false);
});

test('a lane stage switches the split on; a recursive split treats the kick too; steady is not linear', () => {
  const wide = set(plain, 'bass.high.widen');
  assert.equal(stageAt(wide, parseAddress('bass.split').address)!.on, true);
  assert.equal(isTreated(wide, 'bass'), true);
  assert.equal(isTreated(wide, 'kick'), false);
  const recursive = set(wide, 'bass.split', { phase: 'recursive', corner_Hz: 250 });
  assert.equal(kickTurnCorner_Hz(recursive), 250);
  assert.equal(isTreated(recursive, 'kick'), true);
  assert.equal(isTreated(set(plain, 'bass.split', { phase: 'recursive' }), 'kick'), false, 'no lane at work: no split');
  assert.equal(isLinear(wide, 'bass'), true);
  assert.equal(isLinear(set(wide, 'bass.low.steady'), 'bass'), false);
});

test('a stage that stands nowhere cannot be set', () => {
  const { address } = parseAddress('kick.clean');
  assert.throws(() => withStage(plain, { ...address, track: 'b.wav' }, stageAt(plain, address)!), PlainError);
});
