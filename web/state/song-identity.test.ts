import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isSameSong, keptAs, newSongId, type MarkedSong } from './song-identity.js';

const FILES = ['Kick.wav', 'Bass.wav', 'Keys.wav', 'Vox.wav'];

/** Fingerprints by what was recorded; equal names and sizes throughout. */
function song(name: string, sounds: readonly string[], hashed = true): MarkedSong {
  return {
    name,
    stems: sounds.map((sound, i) => ({
      file: FILES[i]!,
      size_bytes: hashed ? 1000 : sound.length,
      sketch: hashed ? sound.padEnd(64, '0') : null,
    })),
  };
}

test('a changed, an added and a dropped stem leave the song what it is', () => {
  const before = song('Stems', ['a', 'b', 'c', 'd']);
  assert.ok(isSameSong(before, song('Stems', ['a', 'b', 'c', 'new'])));
  assert.ok(isSameSong(before, song('Stems', ['a', 'b', 'new', 'newer'])));
  assert.ok(isSameSong(before, song('Stems', ['a', 'b', 'c'])));
  assert.ok(isSameSong(song('Stems', ['a', 'b']), song('Stems', ['a', 'x'])), 'one of two');
});

test('two songs of one name stay two, also where files are named and sized alike', () => {
  assert.ok(!isSameSong(song('Stems', ['a', 'b', 'c', 'd']), song('Stems', ['e', 'f', 'g', 'h'])));
  assert.ok(!isSameSong(song('Stems', ['a', 'b', 'c']), song('Stems', ['a', 'f', 'g'])), 'a click track in common');
  assert.notEqual(newSongId(song('Stems', ['a', 'b'])), newSongId(song('Stems', ['e', 'f'])));
});

test('a copy of the folder under another name has a session of its own', () => {
  assert.ok(!isSameSong(song('Weir', ['a', 'b']), song('Weir copy', ['a', 'b'])));
});

test('where no fingerprint was taken, name and size tell', () => {
  assert.ok(isSameSong(song('Stems', ['1', '22'], false), song('Stems', ['1', '333'], false)));
  assert.ok(!isSameSong(song('Stems', ['1', '22', '1'], false), song('Stems', ['1', '333', '22'], false)));
});

test('a song without a readable stem is the same as nothing', () => {
  assert.ok(!isSameSong(song('Stems', []), song('Stems', [])));
});

test('of several that fit, the one with most in common is taken; the id does not hang on the order of files', () => {
  const far = song('Stems', ['a', 'b', 'x', 'y']);
  const near = song('Stems', ['a', 'b', 'c', 'y']);
  assert.equal(keptAs(song('Stems', ['a', 'b', 'c', 'd']), [far, near]), near);
  assert.equal(keptAs(song('Stems', ['q', 'r', 's', 't']), [far, near]), null);
  const turned = { name: 'Stems', stems: [...near.stems].reverse() };
  assert.equal(newSongId(turned), newSongId(near));
});
