import { compressedDecoders } from '../../decoders/compressed-decoders.js';
import type { JobHost } from '../../core/job/job-host.js';
import type { SongOptions } from '../../core/job/open-song.js';
import { openDiskFolder } from '../../node/disk-folder.js';
import { fingerprint } from '../../node/fingerprint.js';
import { progressLine } from '../progress-line.js';
import type { SongRequest } from '../requests.js';
import type { Terminal } from '../terminal.js';

/** The song folder on this disk, with progress shown where somebody watches. */
export async function withSongHost<Result>(
  folder: string,
  terminal: Terminal,
  work: (host: JobHost) => Promise<Result>,
): Promise<Result> {
  const progress = progressLine(terminal);
  try {
    const host = { folder: await openDiskFolder(folder), decoders: compressedDecoders, fingerprint };
    return await work({ ...host, progress: progress.listen });
  } finally {
    progress.clear();
  }
}

export function songOptions({ roles, only }: SongRequest): SongOptions {
  return only === null ? { overrides: roles } : { overrides: roles, only };
}
