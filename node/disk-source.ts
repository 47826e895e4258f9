import { open, stat } from 'node:fs/promises';
import type { ByteSource } from '../core/audio-file/byte-source.js';
import { PlainError } from '../core/units/plain-error.js';
import { plainDiskError } from './plain-disk-error.js';

/**
 * A file on a disk, read at any place. It is opened for each block and closed after it, so that a song of many stems never runs
 * out of open files and nothing has to be closed by the reader.
 */
export class DiskSource implements ByteSource {
  private constructor(
    private readonly path: string,
    private readonly name: string,
    readonly size: number,
  ) {}

  /** @throws PlainError where it is missing, is not a file or cannot be read. */
  static async open(path: string, name: string): Promise<DiskSource> {
    try {
      const facts = await stat(path);
      if (facts.isDirectory()) throw Object.assign(new Error('a folder'), { code: 'EISDIR' });
      if (!facts.isFile()) throw new PlainError(name, 'This is not a file that holds bytes.', 'Name a sound file.');
      const source = new DiskSource(path, name, facts.size);
      await source.read(0, Math.min(1, facts.size));
      return source;
    } catch (error) {
      throw plainDiskError(name, error);
    }
  }

  async read(offset: number, length: number): Promise<Uint8Array> {
    const wanted = Math.max(0, Math.min(length, this.size - offset));
    const bytes = new Uint8Array(wanted);
    try {
      const handle = await open(this.path, 'r');
      try {
        let done = 0;
        while (done < wanted) {
          const { bytesRead } = await handle.read(bytes, done, wanted - done, offset + done);
          if (bytesRead === 0) break;
          done += bytesRead;
        }
        return done === wanted ? bytes : bytes.subarray(0, done);
      } finally {
        await handle.close();
      }
    } catch (error) {
      throw plainDiskError(this.name, error);
    }
  }
}
