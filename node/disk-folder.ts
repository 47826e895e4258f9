import type { Stats } from 'node:fs';
import { mkdir, readdir, stat } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import type { ByteSink, ByteSource } from '../core/audio-file/byte-source.js';
import type { FolderEntry, SongFolder } from '../core/job/ports.js';
import { PlainError } from '../core/units/plain-error.js';
import { DiskSink } from './disk-sink.js';
import { DiskSource } from './disk-source.js';
import { codeOf, plainDiskError } from './plain-disk-error.js';

/** @throws PlainError where the path is missing, is no folder or cannot be read. */
export async function openDiskFolder(path: string): Promise<SongFolder> {
  const name = basename(resolve(path));
  try {
    if (!(await stat(path)).isDirectory()) {
      throw new PlainError(path, 'This is a file, not a folder.', 'Name the folder that holds the stems.');
    }
    await readdir(path);
  } catch (error) {
    throw plainDiskError(path, error);
  }
  return new DiskFolder(resolve(path), name);
}

/** Makes a folder and those above it; nothing happens where it stands. @throws PlainError where the disk refuses. */
export async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path, { recursive: true });
  } catch (error) {
    throw plainDiskError(path, error);
  }
}

class DiskFolder implements SongFolder {
  constructor(
    private readonly path: string,
    readonly name: string,
  ) {}

  async list(): Promise<readonly FolderEntry[]> {
    try {
      const names = (await readdir(this.path)).sort((a, b) => (a < b ? -1 : 1));
      return await Promise.all(names.map((name) => entryOf(this.path, name)));
    } catch (error) {
      throw plainDiskError(this.name, error);
    }
  }

  async open(name: string): Promise<ByteSource> {
    return DiskSource.open(await this.find(name), name);
  }

  async create(name: string, replace?: 'replace'): Promise<ByteSink> {
    const path = await this.find(name);
    const there = await factsOf(path, name);
    if (there !== null && !there.isFile()) throw plainDiskError(name, coded('EISDIR'));
    if (there !== null && replace === undefined) throw plainDiskError(name, coded('EEXIST'));
    return DiskSink.create(path, name, replace === 'replace');
  }

  async sizeOf(name: string): Promise<number | null> {
    const facts = await factsOf(await this.find(name), name);
    return facts !== null && facts.isFile() ? facts.size : null;
  }

  /** The path of a relative name. Where only the other form of its accents stands on the disk (NFC or NFD), that is meant. */
  private async find(name: string): Promise<string> {
    const parts = name.split('/');
    if (name.includes('\0') || parts.some((part) => part === '' || part === '.' || part === '..')) {
      throw new PlainError(name, 'This name leads out of the song folder.', 'Name a file inside it.');
    }
    let path = this.path;
    for (const part of parts) path = join(path, await standingName(path, part));
    return path;
  }
}

async function standingName(folder: string, name: string): Promise<string> {
  if (name.normalize('NFC') === name.normalize('NFD')) return name;
  const names = await readdir(folder).catch((): string[] => []);
  if (names.includes(name)) return name;
  return names.find((other) => other.normalize('NFC') === name.normalize('NFC')) ?? name;
}

async function entryOf(folder: string, name: string): Promise<FolderEntry> {
  const facts = await stat(join(folder, name)).catch(() => null);
  if (facts === null) return { name, kind: 'other', size: 0 };
  const kind = facts.isFile() ? 'file' : facts.isDirectory() ? 'folder' : 'other';
  return { name, kind, size: facts.size };
}

async function factsOf(path: string, name: string): Promise<Stats | null> {
  try {
    return await stat(path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return null;
    throw plainDiskError(name, error);
  }
}

function coded(code: string): Error {
  return Object.assign(new Error(code), { code });
}
