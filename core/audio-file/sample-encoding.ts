import type { Channel } from '../signal/stereo-signal.js';
import { viewOf } from './byte-text.js';

/** How one sample lies in an uncompressed file. */
export interface SampleEncoding {
  readonly kind: 'integer' | 'offset-integer' | 'float';
  /** Bytes a sample takes: 1..4 for integers, 4 or 8 for float. */
  readonly bytes: number;
  readonly bigEndian: boolean;
}

/** `8`, `16`, `24`, `32`, `32f` or `64f`. */
export function bitDepthOf(encoding: SampleEncoding): string {
  return `${8 * encoding.bytes}${encoding.kind === 'float' ? 'f' : ''}`;
}

function holdsMoreThanFloat32(encoding: SampleEncoding): boolean {
  return encoding.kind === 'float' ? encoding.bytes === 8 : encoding.bytes === 4;
}

export function emptyChannels(encoding: SampleEncoding, channels: number, frameCount: number): Channel[] {
  return Array.from({ length: channels }, () =>
    holdsMoreThanFloat32(encoding) ? new Float64Array(frameCount) : new Float32Array(frameCount),
  );
}

/**
 * Interleaved bytes into channels, from frame `at` on. An integer n of b bits reads as n / 2^(b-1); 8-bit WAV is offset by 128.
 * @returns how many samples were NaN or infinite; they are stored as 0.
 */
export function decodeSamples(bytes: Uint8Array, encoding: SampleEncoding, block: Channel[], at: number): number {
  const stride = encoding.bytes * block.length;
  const frameCount = Math.floor(bytes.length / stride);
  let notFinite = 0;
  block.forEach((channel, index) => {
    const first = index * encoding.bytes;
    if (encoding.kind === 'float') notFinite += decodeFloats(bytes, encoding, first, stride, channel, at, frameCount);
    else decodeIntegers(bytes, encoding, first, stride, channel, at, frameCount);
  });
  return notFinite;
}

function decodeFloats(
  bytes: Uint8Array,
  encoding: SampleEncoding,
  first: number,
  stride: number,
  channel: Channel,
  at: number,
  frameCount: number,
): number {
  const view = viewOf(bytes);
  const little = !encoding.bigEndian;
  const wide = encoding.bytes === 8;
  let notFinite = 0;
  for (let frame = 0, offset = first; frame < frameCount; frame++, offset += stride) {
    const value = wide ? view.getFloat64(offset, little) : view.getFloat32(offset, little);
    if (value - value !== 0) notFinite++;
    else if (value > 1e-30 || value < -1e-30) channel[at + frame] = value;
  }
  return notFinite;
}

/** 2^-31. */
const TO_FULL_SCALE = 1 / 2147483648;

function decodeIntegers(
  bytes: Uint8Array,
  encoding: SampleEncoding,
  first: number,
  stride: number,
  channel: Channel,
  at: number,
  frameCount: number,
): void {
  const size = encoding.bytes;
  const step = encoding.bigEndian ? -1 : 1;
  const lowest = encoding.bigEndian ? first + size - 1 : first;
  const flip = encoding.kind === 'offset-integer' ? 0x80 : 0;
  if (size === 3 && flip === 0) {
    for (let frame = 0, offset = lowest; frame < frameCount; frame++, offset += stride) {
      const word = (bytes[offset]! << 8) | (bytes[offset + step]! << 16) | (bytes[offset + 2 * step]! << 24);
      channel[at + frame] = word * TO_FULL_SCALE;
    }
    return;
  }
  for (let frame = 0, offset = lowest; frame < frameCount; frame++, offset += stride) {
    // the top byte lies at bits 24..31, so that every width has the same sign and the same full scale, 2^31
    let word = 0;
    for (let i = 0; i < size; i++) word = (word >>> 8) | (bytes[offset + i * step]! << 24);
    channel[at + frame] = (word ^ (flip << 24)) * TO_FULL_SCALE;
  }
}
