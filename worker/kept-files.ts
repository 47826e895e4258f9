import type { SourceFile } from '../protocol/song-source.js';

/**
 * Files that were made here and can be made again, kept in the browser's private file system under a key; what another key kept
 * is let go. Where there is no such place, or it is full, nothing is kept and nothing is said: it only saves time.
 */
export class KeptFiles {
  constructor(
    private readonly name: string,
    private readonly key: string,
  ) {}

  /** All the files, or null where one of them is not kept whole. */
  async read(names: readonly string[]): Promise<SourceFile[] | null> {
    try {
      const folder = await (await this.shelf()).getDirectoryHandle(this.key);
      const files = await Promise.all(
        names.map(async (name) => ({ name, file: await (await folder.getFileHandle(name)).getFile() })),
      );
      return files.every(({ file }) => file.size > 0) ? files : null;
    } catch {
      return null;
    }
  }

  /** A file's content is put in place when it is closed: one that was not written to its end stays empty. */
  async keep(files: readonly SourceFile[]): Promise<void> {
    try {
      const shelf = await this.shelf();
      for await (const old of shelf.keys()) if (old !== this.key) await shelf.removeEntry(old, { recursive: true });
      const folder = await shelf.getDirectoryHandle(this.key, { create: true });
      for (const { name, file } of files) await writeWhole(await folder.getFileHandle(name, { create: true }), file);
    } catch {
      // no room, or no such place in this browser: the files are made again the next time
    }
  }

  private async shelf(): Promise<FileSystemDirectoryHandle> {
    const root = await navigator.storage.getDirectory();
    return root.getDirectoryHandle(this.name, { create: true });
  }
}

async function writeWhole(handle: FileSystemFileHandle, file: File): Promise<void> {
  const stream = await handle.createWritable();
  await stream.write(file);
  await stream.close();
}
