import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, open, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, test } from 'node:test';
import { PlainError } from '../core/units/plain-error.js';
import { openDiskFolder } from './disk-folder.js';
import { DiskSink, partPath } from './disk-sink.js';
import { fingerprint } from './fingerprint.js';
import { plainDiskError } from './plain-disk-error.js';

const roots: string[] = [];
after(() => Promise.all(roots.map((path) => rm(path, { recursive: true }))));

async function freshFolder(): Promise<string> {
  const path = await mkdtemp(join(tmpdir(), 'keelson-'));
  roots.push(path);
  return path;
}

function bytesOf(text: string): Uint8Array {
  return Uint8Array.from(Buffer.from(text));
}

async function refusalOf(work: Promise<unknown>): Promise<PlainError> {
  const error = await work.then(
    () => null,
    (reason: unknown) => reason,
  );
  assert.ok(error instanceof PlainError, String(error));
  assert.ok(error.reason !== '' && error.remedy !== '');
  return error;
}

const names = [
  'Kick In.wav',
  'Grosse Caisse é.wav',
  'Grosse Caisse e\u0301.wav',
  'bass 🎸.wav',
  'two\nlines.wav',
  '-rf.wav',
  '.hidden.wav',
  '#1 "take" \'b\' $(x).wav',
];

for (const name of names) {
  test(`a file is written, listed, read and fingerprinted: ${JSON.stringify(name)}`, async () => {
    const path = await freshFolder();
    const folder = await openDiskFolder(path);
    const sink = await folder.create(name);
    await sink.write(bytesOf('0123456789'));
    await sink.rewrite(2, bytesOf('ab'));
    await sink.write(bytesOf('!'));
    await sink.finish();
    assert.deepEqual(await folder.list(), [{ name, kind: 'file', size: 11 }]);
    assert.equal(await folder.sizeOf(name), 11);
    const source = await folder.open(name);
    assert.equal(source.size, 11);
    assert.equal(Buffer.from(await source.read(1, 4)).toString(), '1ab4');
    assert.equal(Buffer.from(await source.read(9, 100)).toString(), '9!');
    assert.equal((await source.read(50, 4)).length, 0);
    assert.equal(await fingerprint(source), createHash('sha256').update('01ab456789!').digest('hex'));
  });
}

test('the other form of an accent means the file that stands there', async () => {
  const folder = await openDiskFolder(await freshFolder());
  await (await folder.create('caf\u00e9.wav')).finish();
  assert.equal(await folder.sizeOf('cafe\u0301.wav'), 0);
  await folder.open('cafe\u0301.wav');
  assert.match((await refusalOf(folder.create('cafe\u0301.wav'))).reason, /stands there already/);
});

test('nothing stands under the name before finish; abandon leaves nothing, new folders included', async () => {
  const path = await freshFolder();
  const folder = await openDiskFolder(path);
  const sink = await folder.create('prints/v1/bass.wav');
  await sink.write(bytesOf('half'));
  assert.deepEqual(await readdir(join(path, 'prints/v1')), ['.bass.wav.keelson-part']);
  await sink.abandon();
  assert.deepEqual(await readdir(path), []);
  const again = await folder.create('prints/v1/bass.wav');
  await again.write(bytesOf('whole'));
  await again.finish();
  assert.deepEqual(await readdir(join(path, 'prints/v1')), ['bass.wav']);
  assert.equal(await readFile(join(path, 'prints/v1/bass.wav'), 'utf8'), 'whole');
});

test('abandon keeps a folder that was there before, and files of others', async () => {
  const path = await freshFolder();
  const folder = await openDiskFolder(path);
  const sink = await folder.create('prints/bass.wav');
  await writeFile(join(path, 'prints/notes.txt'), 'mine');
  await sink.abandon();
  assert.deepEqual(await readdir(join(path, 'prints')), ['notes.txt']);
});

test('a file that stands is never overwritten unless asked, even where it comes in between', async () => {
  const path = await freshFolder();
  const folder = await openDiskFolder(path);
  const slow = await folder.create('a.wav');
  await slow.write(bytesOf('new'));
  await writeFile(join(path, 'a.wav'), 'old');
  assert.match((await refusalOf(slow.finish())).reason, /stands there already/);
  assert.match((await refusalOf(folder.create('a.wav'))).reason, /stands there already/);
  assert.equal(await readFile(join(path, 'a.wav'), 'utf8'), 'old');
  assert.deepEqual(await readdir(path), ['a.wav']);
  const replacing = await folder.create('a.wav', 'replace');
  await replacing.write(bytesOf('new'));
  assert.equal(await readFile(join(path, 'a.wav'), 'utf8'), 'old');
  await replacing.finish();
  assert.equal(await readFile(join(path, 'a.wav'), 'utf8'), 'new');
});

test('a part left by a crash does not hinder the next run', async () => {
  const path = await freshFolder();
  await writeFile(join(path, '.a.wav.keelson-part'), 'a long rest of an earlier print');
  const sink = await (await openDiskFolder(path)).create('a.wav');
  await sink.write(bytesOf('new'));
  await sink.finish();
  assert.equal(await readFile(join(path, 'a.wav'), 'utf8'), 'new');
  assert.deepEqual(await readdir(path), ['a.wav']);
});

test('a full disk: plain error, no file, no part', async () => {
  const path = join(await freshFolder(), 'a.wav');
  const sink = await DiskSink.create(path, 'a.wav', false, async (part) => {
    const handle = await open(part, 'w');
    handle.write = () => Promise.reject(Object.assign(new Error('no space left on device'), { code: 'ENOSPC' }));
    return handle;
  });
  const refusal = await refusalOf(sink.write(bytesOf('x')));
  assert.equal(refusal.subject, 'a.wav');
  assert.match(refusal.reason, /disk is full/);
  assert.deepEqual(await readdir(join(path, '..')), []);
});

test('what is no song folder is refused: a file, a missing path', async () => {
  const path = await freshFolder();
  await writeFile(join(path, 'song'), '');
  assert.match((await refusalOf(openDiskFolder(join(path, 'song')))).reason, /file, not a folder/);
  assert.match((await refusalOf(openDiskFolder(join(path, 'nowhere')))).reason, /no such file or folder/);
  assert.match((await refusalOf(openDiskFolder(join(path, 'song/deeper')))).reason, /is a file, not a folder/);
});

test('a folder named like a file is listed as a folder, and neither read nor written', async () => {
  const path = await freshFolder();
  await mkdir(join(path, 'kick.wav'));
  await symlink(join(path, 'gone'), join(path, 'broken.wav'));
  const folder = await openDiskFolder(path);
  assert.deepEqual(
    (await folder.list()).map(({ name, kind }) => [name, kind]),
    [
      ['broken.wav', 'other'],
      ['kick.wav', 'folder'],
    ],
  );
  assert.equal(await folder.sizeOf('kick.wav'), null);
  assert.match((await refusalOf(folder.open('kick.wav'))).reason, /folder, not a file/);
  assert.match((await refusalOf(folder.create('kick.wav', 'replace'))).reason, /folder, not a file/);
  assert.match((await refusalOf(folder.open('missing.wav'))).reason, /no such file/);
});

test('names that lead out of the song folder are refused', async () => {
  const folder = await openDiskFolder(await freshFolder());
  for (const name of ['../a.wav', 'a/../../b.wav', '', 'a//b', '.', 'x\0y']) {
    assert.match((await refusalOf(folder.open(name))).reason, /out of the song folder/);
    assert.match((await refusalOf(folder.create(name))).reason, /out of the song folder/);
  }
});

test('a name too long for the disk is said so', async () => {
  const folder = await openDiskFolder(await freshFolder());
  assert.match((await refusalOf(folder.create(`${'a'.repeat(300)}.wav`))).reason, /too long/);
});

test('a file that is cut while it is read gives fewer bytes, one that goes away a plain error', async () => {
  const path = await freshFolder();
  await writeFile(join(path, 'a.wav'), '0123456789');
  const source = await (await openDiskFolder(path)).open('a.wav');
  await writeFile(join(path, 'a.wav'), '0123');
  assert.equal((await source.read(0, 10)).length, 4);
  await rm(join(path, 'a.wav'));
  assert.match((await refusalOf(source.read(0, 10))).reason, /no such file/);
});

test('error codes of the system become sentences; an unknown one is named', () => {
  const reasonOf = (code: string): string => plainDiskError('a.wav', Object.assign(new Error('x'), { code })).reason;
  assert.match(reasonOf('EACCES'), /no permission/);
  assert.match(reasonOf('EROFS'), /write-protected/);
  assert.match(reasonOf('EDQUOT'), /share of the disk/);
  assert.match(reasonOf('EWEIRD'), /EWEIRD/);
  const plain = new PlainError('a', 'b', 'c');
  assert.equal(plainDiskError('other', plain), plain);
});

test('the hidden part stands beside its file', () => {
  assert.equal(partPath(join('x', 'a b.wav')), join('x', '.a b.wav.keelson-part'));
});
