import { ByteArraySink } from '../audio-file/byte-array-sink.js';
import { ByteArraySource } from '../audio-file/byte-array-source.js';
import type { ByteSink, ByteSource } from '../audio-file/byte-source.js';
import { PlainError } from '../units/plain-error.js';
import type { FolderEntry, SongFolder } from './ports.js';

/** A song folder that lives in memory: for tests, and for a page that got its files by drag and drop. */
export class MemoryFolder implements SongFolder {
  private readonly files = new Map<string, Uint8Array>();

  constructor(
    readonly name: string,
    files: Iterable<readonly [name: string, bytes: Uint8Array]> = [],
  ) {
    for (const [fileName, bytes] of files) this.files.set(fileName, bytes);
  }

  async list(): Promise<readonly FolderEntry[]> {
    const entries = new Map<string, FolderEntry>();
    for (const [path, bytes] of this.files) {
      const slash = path.indexOf('/');
      const name = slash < 0 ? path : path.slice(0, slash);
      entries.set(name, slash < 0 ? { name, kind: 'file', size: bytes.length } : { name, kind: 'folder', size: 0 });
    }
    return [...entries.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  async open(name: string): Promise<ByteSource> {
    const bytes = this.files.get(name);
    if (bytes === undefined) throw new PlainError(name, 'There is no such file or folder.', 'Check the name.');
    return new ByteArraySource(bytes);
  }

  async create(name: string, replace?: 'replace'): Promise<ByteSink> {
    if (replace === undefined) this.refuseTaken(name);
    return new ByteArraySink((bytes) => {
      if (replace === undefined) this.refuseTaken(name);
      this.files.set(name, bytes);
    });
  }

  async sizeOf(name: string): Promise<number | null> {
    return this.files.get(name)?.length ?? null;
  }

  private refuseTaken(name: string): void {
    if (!this.files.has(name)) return;
    throw new PlainError(name, 'A file of this name stands there already.', 'Choose another name; it was not touched.');
  }
}
