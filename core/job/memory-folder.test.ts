import assert from 'node:assert/strict';
import { test } from 'node:test';
import { PlainError } from '../units/plain-error.js';
import { MemoryFolder } from './memory-folder.js';

test('a folder in memory lists, reads and writes like one on a disk', async () => {
  const folder = new MemoryFolder('song', [['kick.wav', Uint8Array.of(1, 2, 3)]]);
  const sink = await folder.create('prints/v1/bass.wav');
  await sink.write(Uint8Array.of(9, 9));
  await sink.rewrite(1, Uint8Array.of(8));
  assert.equal(await folder.sizeOf('prints/v1/bass.wav'), null);
  await sink.finish();
  assert.deepEqual(await folder.list(), [
    { name: 'kick.wav', kind: 'file', size: 3 },
    { name: 'prints', kind: 'folder', size: 0 },
  ]);
  assert.deepEqual([...(await (await folder.open('prints/v1/bass.wav')).read(0, 9))], [9, 8]);
});

test('nothing is overwritten unless asked, not even at finish; abandon leaves nothing', async () => {
  const folder = new MemoryFolder('song');
  const first = await folder.create('a.wav');
  const second = await folder.create('a.wav');
  const third = await folder.create('b.wav');
  await first.finish();
  await assert.rejects(second.finish(), PlainError);
  await assert.rejects(folder.create('a.wav'), PlainError);
  await third.abandon();
  assert.equal(await folder.sizeOf('b.wav'), null);
  const replacing = await folder.create('a.wav', 'replace');
  await replacing.write(Uint8Array.of(5));
  await replacing.finish();
  assert.equal(await folder.sizeOf('a.wav'), 1);
  await assert.rejects(folder.open('c.wav'), PlainError);
});
