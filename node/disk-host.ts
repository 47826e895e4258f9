import type { JobHost } from '../core/job/job-host.js';
import type { ProgressListener } from '../core/job/ports.js';
import { compressedDecoders } from '../decoders/compressed-decoders.js';
import { openDiskFolder } from './disk-folder.js';
import { fingerprint } from './fingerprint.js';

/** The job's ports on this disk. @throws PlainError where the folder is missing or cannot be read. */
export async function openDiskHost(path: string, progress: ProgressListener): Promise<JobHost> {
  return { folder: await openDiskFolder(path), decoders: compressedDecoders, fingerprint, progress };
}
