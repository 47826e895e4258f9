import { createHash } from 'node:crypto';
import type { ByteSource } from '../core/audio-file/byte-source.js';
import type { Fingerprinter } from '../core/job/ports.js';

const BLOCK_BYTES = 1 << 20;

/** SHA-256 of a source, read in blocks, hexadecimal. */
export const fingerprint: Fingerprinter = async (source: ByteSource): Promise<string> => {
  const hash = createHash('sha256');
  for (let offset = 0; offset < source.size; offset += BLOCK_BYTES) {
    hash.update(await source.read(offset, Math.min(BLOCK_BYTES, source.size - offset)));
  }
  return hash.digest('hex');
};
