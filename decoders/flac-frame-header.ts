import type { FlacStreamInfo } from '../core/audio-file/flac-stream-info.js';

/** A frame of a FLAC stream that begins in some bytes. */
export interface FlacFrameAt {
  /** Where in the bytes it begins. */
  readonly at: number;
  /** Its first sample, counted from the beginning of the stream. */
  readonly sample: number;
}

/** Sync code, fixed fields and a number of up to 36 bits, two sizes, CRC (RFC 9639, section 9.1). */
export const MOST_HEADER_BYTES = 16;

/**
 * The first frame header in some bytes of a stream: sync code, fields that agree with STREAMINFO, and a right CRC-8
 * (RFC 9639, section 9.1). Null where none begins there whole.
 */
export function findFlacFrame(bytes: Uint8Array, info: FlacStreamInfo): FlacFrameAt | null {
  for (let at = 0; at + MOST_HEADER_BYTES <= bytes.length; at++) {
    if (bytes[at] !== 0xff || (bytes[at + 1]! & 0xfe) !== 0xf8) continue;
    const sample = firstSample(bytes.subarray(at, at + MOST_HEADER_BYTES), info);
    if (sample !== null) return { at, sample };
  }
  return null;
}

function firstSample(header: Uint8Array, { bits, channels, blockFrames, frameCount }: FlacStreamInfo): number | null {
  const [, second = 0, sizes = 0, form = 0] = header;
  const assignment = form >> 4;
  const channelsHere = assignment < 8 ? assignment + 1 : assignment < 11 ? 2 : 0;
  const bitsHere = BITS[(form >> 1) & 7];
  if ((form & 1) !== 0 || channelsHere !== channels || (bitsHere !== 0 && bitsHere !== bits)) return null;
  const number = codedNumber(header);
  if (number === null) return null;
  const blockCode = sizes >> 4;
  const rateCode = sizes & 15;
  if (blockCode === 0 || rateCode === 15) return null;
  const length = 4 + number.bytes + (BLOCK_BYTES[blockCode] ?? 0) + (RATE_BYTES[rateCode] ?? 0);
  if (crc8(header.subarray(0, length)) !== header[length]) return null;
  // frames of one size are counted; of others, their samples
  const sample = (second & 1) === 1 ? number.value : number.value * blockFrames;
  return frameCount > 0 && sample >= frameCount ? null : sample;
}

/** Bits of a sample by their code; 0: as STREAMINFO says. Code 3 is reserved. */
const BITS: readonly (number | undefined)[] = [0, 8, 12, undefined, 16, 20, 24, 32];
const BLOCK_BYTES: Readonly<Record<number, number>> = { 6: 1, 7: 2 };
const RATE_BYTES: Readonly<Record<number, number>> = { 12: 1, 13: 2, 14: 2 };

/** A number in the manner of UTF-8, to 36 bits, from the fifth byte on. */
function codedNumber(header: Uint8Array): { readonly value: number; readonly bytes: number } | null {
  const first = header[4]!;
  if (first < 0x80) return { value: first, bytes: 1 };
  let bytes = 0;
  while (bytes < 8 && (first & (0x80 >> bytes)) !== 0) bytes += 1;
  if (bytes < 2 || bytes > 7) return null;
  let value = first & (0x7f >> bytes);
  for (let n = 1; n < bytes; n++) {
    const next = header[4 + n]!;
    if ((next & 0xc0) !== 0x80) return null;
    value = value * 64 + (next & 0x3f);
  }
  return { value, bytes };
}

/** Polynomial x^8 + x^2 + x + 1, begun at 0. */
function crc8(bytes: Uint8Array): number {
  let crc = 0;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = (crc & 0x80) === 0 ? (crc << 1) & 0xff : ((crc << 1) ^ 0x07) & 0xff;
  }
  return crc;
}
