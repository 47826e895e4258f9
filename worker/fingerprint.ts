import type { ByteSource } from '../core/audio-file/byte-source.js';

/** SHA-256 by the platform, as hexadecimal. It takes a file whole; the bytes are let go at once. */
export async function fingerprint(source: ByteSource): Promise<string> {
  return sha256(await source.read(0, source.size));
}

const PIECES = 12;
const PIECE_BYTES = 4096;

/** Tells files apart without reading them whole: SHA-256 of pieces spread evenly over the file. */
export async function sketchOf(source: ByteSource): Promise<string> {
  const room = Math.max(0, source.size - PIECE_BYTES);
  const places = Array.from({ length: PIECES }, (_, i) => Math.floor((room * i) / (PIECES - 1)));
  const pieces = await Promise.all(places.map((at) => source.read(at, Math.min(PIECE_BYTES, source.size - at))));
  return sha256(new Uint8Array(await new Blob(pieces as Uint8Array<ArrayBuffer>[]).arrayBuffer()));
}

async function sha256(bytes: Uint8Array): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
