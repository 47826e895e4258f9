import assert from 'node:assert/strict';
import { test } from 'node:test';
import { sourceOfHandle } from './source-of-handle.js';

const file = new File(['x'], 'Kick.wav');

/** A folder handle of the browser that allows what it is told to. */
function folder(allowed: readonly string[], files: readonly File[] | null = [file]): FileSystemDirectoryHandle {
  const handle = {
    name: 'Ballast',
    requestPermission: ({ mode }: { mode: string }) =>
      allowed.includes(mode) ? Promise.resolve('granted') : Promise.reject(new Error('no gesture')),
    async *values() {
      if (files === null) throw new Error('gone');
      yield { kind: 'directory' };
      for (const one of files)
        yield { kind: 'file', getFile: () => Promise.resolve(Object.assign(one, { webkitRelativePath: '' })) };
    },
  };
  return handle as unknown as FileSystemDirectoryHandle;
}

test('a folder that may be written is taken as it is', async () => {
  const handle = folder(['readwrite', 'read']);
  assert.deepEqual(await sourceOfHandle(handle), { kind: 'folder', name: 'Ballast', handle });
});

test('one that may only be read gives its files; prints then come as one zip', async () => {
  const source = await sourceOfHandle(folder(['read']));
  assert.ok(source?.kind === 'files');
  assert.deepEqual([source.name, source.files.map(({ name }) => name)], ['Ballast', ['Kick.wav']]);
});

test('one that may not be read, or is gone, gives nothing', async () => {
  assert.equal(await sourceOfHandle(folder([])), null);
  assert.equal(await sourceOfHandle(folder(['read'], null)), null);
});
