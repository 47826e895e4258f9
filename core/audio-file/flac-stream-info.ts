import { PlainError } from '../units/plain-error.js';
import type { ByteSource } from './byte-source.js';
import { textOf, viewOf } from './byte-text.js';

/** The STREAMINFO block of a FLAC file (RFC 9639, section 8.2). */
export interface FlacStreamInfo {
  readonly sampleRate_Hz: number;
  readonly channels: number;
  readonly bits: number;
  /** Samples of a block where all have the same count: the largest block. */
  readonly blockFrames: number;
  /** 0 where the encoder did not know. */
  readonly frameCount: number;
  /** MD5 of the interleaved little-endian integers, hexadecimal; null where the encoder did not compute it. */
  readonly samplesMd5: string | null;
}

const STREAM_INFO_AT = 8;
const STREAM_INFO_BYTES = 34;

/** @throws PlainError where the file does not begin with `fLaC` and a whole STREAMINFO block. */
export async function readFlacStreamInfo(name: string, source: ByteSource): Promise<FlacStreamInfo> {
  const head = await source.read(0, STREAM_INFO_AT + STREAM_INFO_BYTES);
  const whole = head.length === STREAM_INFO_AT + STREAM_INFO_BYTES && textOf(head.subarray(0, 4)) === 'fLaC';
  if (!whole || (head[4]! & 0x7f) !== 0) {
    throw new PlainError(name, 'The FLAC header is cut short or damaged.', 'Export it again.');
  }
  const view = viewOf(head);
  // 20 bits rate, 3 bits channels - 1, 5 bits depth - 1, 36 bits sample count
  const packed = view.getUint32(STREAM_INFO_AT + 10);
  const md5 = head.subarray(STREAM_INFO_AT + 18);
  return {
    sampleRate_Hz: packed >>> 12,
    channels: ((packed >>> 9) & 7) + 1,
    bits: ((packed >>> 4) & 31) + 1,
    blockFrames: view.getUint16(STREAM_INFO_AT + 2),
    frameCount: (packed & 15) * 4294967296 + view.getUint32(STREAM_INFO_AT + 14),
    samplesMd5: md5.every((byte) => byte === 0) ? null : hexadecimal(md5),
  };
}

function hexadecimal(bytes: Uint8Array): string {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
