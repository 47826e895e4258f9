import type { ByteSink, ByteSource } from '../core/audio-file/byte-source.js';
import type { FolderEntry, SongFolder } from '../core/job/ports.js';
import { PlainError } from '../core/units/plain-error.js';
import { BlobSource } from './blob-source.js';

/** A song folder on the disk that the engineer has opened to the page. */
export class DirectoryFolder implements SongFolder {
  readonly name: string;

  constructor(private readonly handle: FileSystemDirectoryHandle) {
    this.name = handle.name;
  }

  async list(): Promise<readonly FolderEntry[]> {
    const entries: FolderEntry[] = [];
    try {
      for await (const [name, entry] of this.handle.entries()) {
        const size = entry.kind === 'file' ? (await (entry as FileSystemFileHandle).getFile()).size : 0;
        entries.push({ name, kind: entry.kind === 'file' ? 'file' : 'folder', size });
      }
    } catch {
      throw lostFolder(this.name);
    }
    return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  async open(name: string): Promise<ByteSource> {
    const file = await this.fileAt(name);
    if (file === null) throw new PlainError(name, 'There is no such file or folder.', 'Check the name.');
    return new BlobSource(name, file);
  }

  async create(name: string, replace?: 'replace'): Promise<ByteSink> {
    const before = await this.fileAt(name);
    if (before !== null && replace === undefined) {
      throw new PlainError(
        name,
        'A file of this name stands there already.',
        'Choose another name; it was not touched.',
      );
    }
    const parts = name.split('/');
    const leaf = parts.pop()!;
    try {
      let folder = this.handle;
      for (const part of parts) folder = await folder.getDirectoryHandle(part, { create: true });
      const file = await folder.getFileHandle(leaf, { create: true });
      return new WritableSink(name, folder, await file.createWritable(), before === null ? leaf : null);
    } catch (error) {
      throw refusedWrite(name, error);
    }
  }

  async sizeOf(name: string): Promise<number | null> {
    return (await this.fileAt(name))?.size ?? null;
  }

  private async fileAt(name: string): Promise<File | null> {
    const parts = name.split('/');
    const leaf = parts.pop()!;
    try {
      let folder = this.handle;
      for (const part of parts) folder = await folder.getDirectoryHandle(part);
      return await (await folder.getFileHandle(leaf)).getFile();
    } catch (error) {
      if (error instanceof DOMException && error.name === 'NotAllowedError') throw lostFolder(this.name);
      return null;
    }
  }
}

/** The browser writes into a file of its own and puts it in place on `close`; a name made for it is taken back on `abort`. */
class WritableSink implements ByteSink {
  private at = 0;

  constructor(
    private readonly name: string,
    private readonly folder: FileSystemDirectoryHandle,
    private readonly stream: FileSystemWritableFileStream,
    private readonly made: string | null,
  ) {}

  async write(bytes: Uint8Array): Promise<void> {
    await this.put(this.at, bytes);
    this.at += bytes.length;
  }

  rewrite(offset: number, bytes: Uint8Array): Promise<void> {
    return this.put(offset, bytes);
  }

  async finish(): Promise<void> {
    try {
      await this.stream.close();
    } catch (error) {
      throw refusedWrite(this.name, error);
    }
  }

  async abandon(): Promise<void> {
    await this.stream.abort().catch(() => undefined);
    if (this.made !== null) await this.folder.removeEntry(this.made).catch(() => undefined);
  }

  private async put(position: number, bytes: Uint8Array): Promise<void> {
    try {
      await this.stream.write({ type: 'write', position, data: bytes as Uint8Array<ArrayBuffer> });
    } catch (error) {
      throw refusedWrite(this.name, error);
    }
  }
}

function lostFolder(name: string): PlainError {
  return new PlainError(
    name,
    'The folder may no longer be read.',
    'Open it again. What you did is safe in this browser.',
  );
}

function refusedWrite(name: string, error: unknown): PlainError {
  const full = error instanceof DOMException && error.name === 'QuotaExceededError';
  return full
    ? new PlainError(name, 'The disk is full.', 'Make room and print again. No half file was left.')
    : new PlainError(name, 'The folder may not be written.', 'Open it again and allow writing. No half file was left.');
}
