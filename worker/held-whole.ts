import { ByteArraySource } from '../core/audio-file/byte-array-source.js';
import type { ByteSource } from '../core/audio-file/byte-source.js';

/** A longer file is read in blocks: the page has no room for it beside its sound. */
const LONGEST_BYTES = 64e6;

/** A file of the browser in memory: every read of one goes through another process, and this is one read for all of it. */
export async function heldWhole(source: ByteSource): Promise<ByteSource> {
  return source.size > LONGEST_BYTES ? source : new ByteArraySource(await source.read(0, source.size));
}
