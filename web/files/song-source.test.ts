import assert from 'node:assert/strict';
import { test } from 'node:test';
import { commonName, sourceOfFiles } from './song-source.js';

test('a song is called like what its file names have in common', () => {
  assert.equal(commonName(['Ballast_Kick In.wav', 'Ballast_Bass.wav', 'Ballast_Keys.wav']), 'Ballast');
  assert.equal(commonName(['Low Tide 01 Kick.wav', 'Low Tide 02 Bass.wav']), 'Low Tide');
  assert.equal(commonName(['01 Kick.wav', '02 Bass.wav']), 'Song');
  assert.equal(commonName(['Ballast.wav']), 'Song');
  assert.equal(commonName([]), 'Song');
});

test('of a chosen folder its own files count, and it gives its name', () => {
  const file = (path: string) =>
    Object.defineProperty(new File([], path.split('/').at(-1)!), 'webkitRelativePath', { value: path });
  const source = sourceOfFiles([
    file('Lamp Room/Kick.wav'),
    file('Lamp Room/old/Kick.wav'),
    file('Lamp Room/Bass.wav'),
  ]);
  assert.ok(source.kind === 'files');
  assert.equal(source.name, 'Lamp Room');
  assert.deepEqual(
    source.files.map(({ name }) => name),
    ['Kick.wav', 'Bass.wav'],
  );
});
