import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { before, test } from 'node:test';
import { stemBytes } from '../../tests/end-to-end/song-folder.js';
import { smallSong } from '../../tests/songs/small-song.js';
import { monoSignal } from '../signal/stereo-signal.js';
import { PlainError } from '../units/plain-error.js';
import { valueOf } from '../units/reading.js';
import type { JobHost } from './job-host.js';
import { MemoryFolder } from './memory-folder.js';
import { printAndProve } from './print-and-prove.js';
import { loadSession, saveSession } from './session-store.js';
import { treatSong } from './treat-song.js';

const { kick, bass } = smallSong();

function hostOf(files: Record<string, Uint8Array>): JobHost & { readonly folder: MemoryFolder } {
  return {
    folder: new MemoryFolder('song', Object.entries(files)),
    decoders: { openFlac: () => Promise.reject(new Error('not in this test')) },
    fingerprint: async (source) =>
      createHash('sha256')
        .update(await source.read(0, source.size))
        .digest('hex'),
  };
}

const FILES = { 'Kick.wav': stemBytes(kick), 'Bass.wav': stemBytes(bass) };
const trim = (gain_dB: string) => ({
  said: {},
  wishes: [],
  settings: [{ address: 'bass.trim.gain_dB', text: gain_dB }],
});
const SAME = { depth: null, gain_dB: 0 };

let host: ReturnType<typeof hostOf>;

before(() => {
  host = hostOf(FILES);
});

test('a print is proved from its bytes: 3 dB less bass reads so, the kick is the same bytes, all on the sample', async () => {
  const treated = await treatSong(host, {}, trim('-3'));
  const { printed, proof } = await printAndProve(host, treated, SAME);
  assert.equal(printed.version, 'v1');
  assert.deepEqual(
    proof.files.map(({ printed: { path }, sameBytesAsSource, alignedOnTheSample, bitDepth }) => [
      ...[path, sameBytesAsSource, alignedOnTheSample, bitDepth],
    ]),
    [
      ['Keelson prints/v1/Kick.wav', true, true, '24'],
      ['Keelson prints/v1/Bass.wav', false, true, '24'],
    ],
  );
  assert.ok(valueOf(proof.lowsChange_dB)! < -0.3 && valueOf(proof.lowsChange_dB)! > -3);
  const session = await loadSession(host);
  assert.deepEqual(
    session.versions.map(({ name }) => name),
    ['v1'],
  );
  assert.equal(session.proofs[0]!.rows.length, proof.rows.length);
});

test('the same again is verified and not written; another choice is another version; a spoilt print is not believed', async () => {
  const treated = await treatSong(host, {}, trim('-3'));
  assert.equal((await printAndProve(host, treated, SAME)).printed.version, 'v1');
  assert.equal(await host.folder.sizeOf('Keelson prints/v2/Bass.wav'), null);
  assert.equal(
    (await printAndProve(host, await treatSong(host, {}, trim('-3')), { ...SAME, depth: '16' })).printed.version,
    'v2',
  );
  const sink = await host.folder.create('Keelson prints/v2/Bass.wav', 'replace');
  await sink.write(Uint8Array.of(1, 2, 3));
  await sink.finish();
  const again = await printAndProve(host, await treatSong(host, {}, trim('-3')), { ...SAME, depth: '16' });
  assert.equal(again.printed.version, 'v3');
  assert.equal((await loadSession(host)).printing.depth, '16', 'the next print begins with it');
  assert.equal(await host.folder.sizeOf('Keelson prints/v2/Bass.wav'), 3);
});

test('an integer print that would pass full scale is refused with the gain that fits, and nothing is written', async () => {
  const loud = monoSignal(
    bass.left.map((x) => 3 * x),
    48_000,
  );
  const ours = hostOf({ 'Kick.wav': stemBytes(kick), 'Bass.wav': stemBytes(loud) });
  const treated = await treatSong(ours, {}, trim('12'));
  const failure = await printAndProve(ours, treated, SAME).then(
    () => null,
    (error: unknown) => error,
  );
  assert.ok(failure instanceof PlainError, String(failure));
  assert.match(failure.remedy, /--gain|32-bit float|32f/);
  assert.deepEqual(
    (await ours.folder.list()).map(({ name }) => name),
    ['Bass.wav', 'Kick.wav', 'keelson.json'],
  );
  assert.equal((await printAndProve(ours, treated, { ...SAME, depth: '32f' })).printed.version, 'v1');
});

test('an order of stages in the session is the order that is solved and printed; what it cannot mean is told', async () => {
  const ours = hostOf(FILES);
  const session = await loadSession(ours);
  const orders = [{ place: 'bass.low', stages: ['saturate', 'chorus', 'steady'] }];
  await saveSession(ours, { ...session, orders }, session);
  const { treatment, remarks } = await treatSong(ours, {}, trim('-3'));
  assert.deepEqual(
    treatment.bass.lanes.low.map(({ stage }) => stage),
    ['saturate', 'harmonics', 'steady'],
  );
  assert.equal(remarks.filter((remark) => remark.includes('chorus')).length, 1);
  assert.deepEqual((await loadSession(ours)).treatment, treatment);
  assert.deepEqual((await loadSession(ours)).orders, orders);
});

test('only the bass, under another name: the kick stands in the proof as it came; what was not asked is no other version', async () => {
  const own = hostOf(FILES);
  const treated = await treatSong(own, {}, trim('-3'));
  const whole = await printAndProve(own, treated, SAME);
  const chosen = { ...SAME, roles: ['bass'] as const, name: '{name} low end' };
  const later = { ...treated, session: await loadSession(own) };
  const { printed, proof } = await printAndProve(own, later, chosen);
  assert.deepEqual(
    printed.files.map(({ path }) => path),
    ['Keelson prints/v2/Bass low end.wav'],
  );
  // another name is another dither, which lies under -140 dBFS at 24 bits
  const [mine, both] = [valueOf(proof.lowsChange_dB)!, valueOf(whole.proof.lowsChange_dB)!];
  assert.ok(Math.abs(mine - both) < 1e-5, `${mine}, ${both}`);
  const turned = { name: chosen.name, roles: chosen.roles, gain_dB: 0, depth: null };
  const again = { ...treated, session: await loadSession(own) };
  assert.equal((await printAndProve(own, again, turned)).printed.version, 'v2', 'the order of choices is no choice');
});

test('nothing to print, and a name that no disk takes, are refused before anything is written', async () => {
  const own = hostOf(FILES);
  const treated = await treatSong(own, {}, trim('-3'));
  for (const wrong of [{ roles: ['rest'] as const }, { name: 'a/{name}' }, { name: 'bass' }]) {
    await assert.rejects(printAndProve(own, treated, { ...SAME, ...wrong }), PlainError);
  }
  assert.equal(await own.folder.sizeOf('Keelson prints/v1/Bass.wav'), null);
});
