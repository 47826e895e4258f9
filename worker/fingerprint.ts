import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex } from '@noble/hashes/utils.js';
import type { ByteSource } from '../core/audio-file/byte-source.js';

const BLOCK_BYTES = 1 << 22;

/** SHA-256 as hexadecimal, in blocks: the platform's own would need the file whole, and a long song has no room for that. */
export async function fingerprint(source: ByteSource): Promise<string> {
  const hash = sha256.create();
  for (let at = 0; at < source.size; at += BLOCK_BYTES) {
    hash.update(await source.read(at, Math.min(BLOCK_BYTES, source.size - at)));
  }
  return bytesToHex(hash.digest());
}

const PIECES = 12;
const PIECE_BYTES = 4096;

/** Tells files apart without reading them whole: SHA-256 of pieces spread evenly over the file. */
export async function sketchOf(source: ByteSource): Promise<string> {
  const room = Math.max(0, source.size - PIECE_BYTES);
  const places = Array.from({ length: PIECES }, (_, i) => Math.floor((room * i) / (PIECES - 1)));
  const pieces = await Promise.all(places.map((at) => source.read(at, Math.min(PIECE_BYTES, source.size - at))));
  const hash = sha256.create();
  for (const piece of pieces) hash.update(piece);
  return bytesToHex(hash.digest());
}
