import type { JobHost } from '../../core/job/job-host.js';
import type { SongOptions } from '../../core/job/open-song.js';
import { openDiskHost } from '../../node/disk-host.js';
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
    return await work(await openDiskHost(folder, progress.listen));
  } finally {
    progress.clear();
  }
}

export function songOptions({ roles, only, monoStems_dB }: SongRequest): SongOptions {
  return {
    overrides: roles,
    ...(only === null ? {} : { only }),
    ...(monoStems_dB === null ? {} : { monoStems_dB }),
  };
}
