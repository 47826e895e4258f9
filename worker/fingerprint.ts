import type { ByteSource } from '../core/audio-file/byte-source.js';

/** SHA-256 by the platform, as hexadecimal. It takes a file whole; the bytes are let go at once. */
export async function fingerprint(source: ByteSource): Promise<string> {
  const bytes = await source.read(0, source.size);
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
