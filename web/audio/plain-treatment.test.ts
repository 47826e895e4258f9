import assert from 'node:assert/strict';
import { test } from 'node:test';
import type { SoundingSong } from '../../protocol/sound-request.js';
import { isOfFiles, plainTreatment } from './plain-treatment.js';

const at0 = (file: string) => ({ file, start: 0 });
const song: SoundingSong = {
  ...{ name: 'Ballast', sampleRate_Hz: 44_100, frameCount: 9000, monoStems_dB: 0 },
  files: { kick: [at0('In.wav'), at0('Out.wav')], bass: [at0('Bass.wav')], rest: [at0('Keys.wav')] },
  bed: [{ ...at0('Keys.wav'), sign: 1 }],
  besides: [],
};

test('the song as it came has every file in its role and nothing on', () => {
  const { kick, bass, rest, sampleRate_Hz } = plainTreatment(song);
  assert.deepEqual(
    [kick, bass, rest].map(({ tracks }) => tracks.map(({ file }) => file)),
    [['In.wav', 'Out.wav'], ['Bass.wav'], ['Keys.wav']],
  );
  assert.equal(sampleRate_Hz, 44_100);
  assert.ok([...kick.stages, ...bass.stages, ...bass.lanes.low].every(({ on }) => !on));
});

test('a treatment of other files, another order of them or another rate is not played', () => {
  const plain = plainTreatment(song);
  assert.equal(isOfFiles(plain, song), true);
  assert.equal(isOfFiles({ ...plain, sampleRate_Hz: 48_000 }, song), false);
  const { kick, rest } = song.files;
  assert.equal(isOfFiles(plain, { ...song, files: { ...song.files, kick: [...kick].reverse() } }), false);
  assert.equal(isOfFiles(plain, { ...song, files: { ...song.files, rest: [...rest, at0('Pad.wav')] } }), false);
});
