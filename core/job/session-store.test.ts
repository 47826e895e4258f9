import assert from 'node:assert/strict';
import { test } from 'node:test';
import { emptySession } from '../session/session-format.js';
import type { Role } from '../song/song.js';
import { NOT_CHOSEN } from './name-roles.js';
import type { OpenSong } from './open-song.js';
import { rememberedOptions, withRoles } from './session-store.js';

const sha256 = 'a'.repeat(64);

function songOf(stems: readonly (readonly [file: string, role: Role, because: string, fault?: string])[]): OpenSong {
  const files = stems.map(([file, role, because, id]) => ({
    stem: { file, role, because, faults: id === undefined ? [] : [{ id, sentence: '' }] },
    sha256: async () => sha256,
  }));
  return { files } as unknown as OpenSong;
}

const roles = (session: Awaited<ReturnType<typeof withRoles>>) =>
  rememberedOptions(session, {}).remembered!.map(({ file, role }) => [file, role]);

test('roles are remembered; what was set aside as a duplicate or a bus is judged anew', async () => {
  const session = await withRoles(
    emptySession(),
    songOf([
      ['Kick.wav', 'kick', 'the name says "kick"'],
      ['Kick copy.wav', 'aside', 'the same sound', 'duplicate'],
      ['Bus.wav', 'aside', 'the sum', 'bus'],
      ['Old.wav', 'aside', 'you said so'],
    ]),
  );
  assert.deepEqual(roles(session), [
    ['Kick.wav', 'kick'],
    ['Old.wav', 'aside'],
  ]);
});

test('files of another song in the folder are not remembered as left out, and keep what was said of them', async () => {
  const first = await withRoles(
    emptySession(),
    songOf([
      ['A Kick.wav', 'kick', 'you said so'],
      ['B Kick.wav', 'aside', NOT_CHOSEN],
    ]),
  );
  assert.deepEqual(roles(first), [['A Kick.wav', 'kick']]);
  const second = await withRoles(
    first,
    songOf([
      ['A Kick.wav', 'aside', NOT_CHOSEN],
      ['B Kick.wav', 'kick', 'you said so'],
    ]),
  );
  assert.deepEqual(roles(second), [
    ['A Kick.wav', 'kick'],
    ['B Kick.wav', 'kick'],
  ]);
});
