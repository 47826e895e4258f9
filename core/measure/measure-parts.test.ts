import assert from 'node:assert/strict';
import { test } from 'node:test';
import { smallSong } from '../../tests/songs/small-song.js';
import { scaledSignal } from '../signal/stereo-signal.js';
import { knowSong } from './know-song.js';
import { MEASURE_PARTS, measureParts, mergedParts, PART_NAMES, type MeasuredParts } from './measure-parts.js';
import { measureSong } from './measurements.js';
import type { SongSound } from './song-sound.js';

const { kick, bass } = smallSong();
const mic = scaledSignal(kick, 0.5);
const rest = { ...scaledSignal(bass, 0.1), right: scaledSignal(bass, 0.05).left };
const sound: SongSound = {
  sampleRate_Hz: kick.sampleRate_Hz,
  frameCount: kick.left.length,
  ...{ kick, bass, rest },
  tracks: {
    kick: [
      { file: 'Kick In.wav', signal: kick },
      { file: 'Kick Out.wav', signal: mic },
    ],
    bass: [{ file: 'Bass.wav', signal: bass }],
    rest: [],
  },
};
const known = knowSong(sound);

test('parts measured apart, in any order, on copies of the sound, make the whole', () => {
  const whole = measureSong(sound, known);
  assert.ok(whole.clearance.kind === 'measured' && whole.carry.kind === 'measured');
  const early = PART_NAMES.filter((name) => !MEASURE_PARTS[name].needsKnown);
  const late = PART_NAMES.filter((name) => MEASURE_PARTS[name].needsKnown).reverse();
  const parts = [
    ...early.map((name) => measureParts(structuredClone(sound), null, [name])),
    ...late.map((name) => measureParts(structuredClone(sound), known, [name])),
  ];
  assert.deepEqual(mergedParts(known, parts), whole);
  assert.deepEqual(
    parts.map((part) => Object.keys(part).length),
    parts.map(() => 1),
  );
});

test('a part that is missing is named, and so is one that needs what is not known yet', () => {
  const none: MeasuredParts = { stemLows: [], trackAlignments: [] };
  assert.throws(() => mergedParts(known, [none]), /not measured: clearance, agreement, centre/);
  assert.throws(() => measureParts(sound, null, ['carry']), /carry needs what is known/);
});

test('the shares of cost are those of one whole', () => {
  const total = PART_NAMES.reduce((sum, name) => sum + MEASURE_PARTS[name].cost_percent, 0);
  assert.equal(total, 100);
});
