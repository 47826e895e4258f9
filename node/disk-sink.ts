import { link, mkdir, open, rename, rmdir, unlink, type FileHandle } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import type { ByteSink } from '../core/audio-file/byte-source.js';
import { codeOf, plainDiskError } from './plain-disk-error.js';

/** Where the bytes stand until `finish`: a hidden name beside the final one, on the same disk. */
export function partPath(path: string): string {
  return join(dirname(path), `.${basename(path)}.keelson-part`);
}

/** Disks that know no hard links answer a `link` with one of these. */
const NO_LINKS = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK', 'EINVAL']);

/**
 * A file that appears whole or not at all: written under a hidden name, flushed to the disk, then given its name. A part left by
 * a crash is written over by the next run.
 */
export class DiskSink implements ByteSink {
  private closed = false;

  private constructor(
    private readonly path: string,
    private readonly name: string,
    private readonly replace: boolean,
    private readonly handle: FileHandle,
    private readonly firstNewFolder: string | undefined,
  ) {}

  /** @param openPart opens the hidden file; tests put a failing disk here. */
  static async create(
    path: string,
    name: string,
    replace: boolean,
    openPart: (path: string) => Promise<FileHandle> = (part) => open(part, 'w'),
  ): Promise<DiskSink> {
    try {
      const firstNewFolder = await mkdir(dirname(path), { recursive: true });
      return new DiskSink(path, name, replace, await openPart(partPath(path)), firstNewFolder);
    } catch (error) {
      throw plainDiskError(name, error);
    }
  }

  async write(bytes: Uint8Array): Promise<void> {
    await this.attempt(() => writeAll(this.handle, bytes, null));
  }

  async rewrite(offset: number, bytes: Uint8Array): Promise<void> {
    await this.attempt(() => writeAll(this.handle, bytes, offset));
  }

  async finish(): Promise<void> {
    await this.attempt(async () => {
      await this.handle.sync();
      await this.close();
      if (this.replace) await rename(partPath(this.path), this.path);
      else await renameWithoutReplacing(partPath(this.path), this.path);
      await syncFolder(dirname(this.path));
    });
  }

  async abandon(): Promise<void> {
    await this.close().catch(() => undefined);
    await unlink(partPath(this.path)).catch(() => undefined);
    if (this.firstNewFolder !== undefined) await removeEmptyFolders(dirname(this.path), this.firstNewFolder);
  }

  private async attempt(work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      await this.abandon();
      throw plainDiskError(this.name, error);
    }
  }

  private async close(): Promise<void> {
    if (this.closed) return;
    this.closed = true;
    await this.handle.close();
  }
}

async function writeAll(handle: FileHandle, bytes: Uint8Array, offset: number | null): Promise<void> {
  let done = 0;
  while (done < bytes.length) {
    const at = offset === null ? null : offset + done;
    done += (await handle.write(bytes, done, bytes.length - done, at)).bytesWritten;
  }
}

/** A hard link fails where the name is taken, so that no other program can slip in between; then the hidden name goes. */
async function renameWithoutReplacing(from: string, to: string): Promise<void> {
  try {
    await link(from, to);
  } catch (error) {
    if (!NO_LINKS.has(codeOf(error))) throw error;
    // an empty file holds the name, exclusively, until the rename
    await (await open(to, 'wx')).close();
    await rename(from, to).catch(async (failure: unknown) => {
      await unlink(to);
      throw failure;
    });
    return;
  }
  await unlink(from);
}

/** The new name itself is flushed too, where the system can do that. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null);
  await handle?.sync().catch(() => undefined);
  await handle?.close();
}

async function removeEmptyFolders(deepest: string, first: string): Promise<void> {
  for (let folder = deepest; folder.startsWith(first); folder = dirname(folder)) {
    const gone = await rmdir(folder).then(
      () => true,
      () => false,
    );
    if (!gone) return;
  }
}
