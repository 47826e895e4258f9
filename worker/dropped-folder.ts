import type { ByteSink, ByteSource } from '../core/audio-file/byte-source.js';
import { MemoryFolder } from '../core/job/memory-folder.js';
import type { FolderEntry, SongFolder } from '../core/job/ports.js';
import type { SourceFile } from '../protocol/song-source.js';
import { BlobSource } from './blob-source.js';

/** A song folder made of files that were dropped or chosen; what is written stays in memory. */
export class DroppedFolder implements SongFolder {
  private readonly files: ReadonlyMap<string, File>;
  private readonly written: MemoryFolder;

  constructor(
    readonly name: string,
    files: readonly SourceFile[],
  ) {
    this.files = new Map(files.map(({ name: fileName, file }) => [fileName, file]));
    this.written = new MemoryFolder(name);
  }

  async list(): Promise<readonly FolderEntry[]> {
    const dropped = [...this.files].map(([name, { size }]): FolderEntry => ({ name, kind: 'file', size }));
    const written = (await this.written.list()).filter(({ name }) => !this.files.has(name));
    return [...dropped, ...written].sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  async open(name: string): Promise<ByteSource> {
    const file = this.files.get(name);
    if (file === undefined || (await this.written.sizeOf(name)) !== null) return this.written.open(name);
    return new BlobSource(name, file);
  }

  /** A dropped file is never replaced: the new one stands before it, in memory. */
  create(name: string, replace?: 'replace'): Promise<ByteSink> {
    return this.written.create(name, replace);
  }

  async sizeOf(name: string): Promise<number | null> {
    return (await this.written.sizeOf(name)) ?? this.files.get(name)?.size ?? null;
  }
}
