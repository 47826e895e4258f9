import { PlainError } from '../units/plain-error.js';
import type { FileFault } from '../song/song.js';
import { viewOf } from './byte-text.js';
import type { SampleEncoding } from './sample-encoding.js';

/** What the `fmt ` chunk of a WAV says. */
export interface WavFormat {
  readonly encoding: SampleEncoding;
  readonly validBits: number;
  readonly channels: number;
  readonly sampleRate_Hz: number;
  readonly channelMask: number | null;
  readonly faults: readonly FileFault[];
}

export const TAG_PCM = 1;
export const TAG_FLOAT = 3;
export const TAG_EXTENSIBLE = 0xfffe;

/** All bytes of the sub-format GUID after its first word: xxxxxxxx-0000-0010-8000-00AA00389B71. */
export const GUID_TAIL: readonly number[] = [0x00, 0x00, 0x10, 0x00, 0x80, 0x00, 0x00, 0xaa, 0x00, 0x38, 0x9b, 0x71];

/** Compressed kinds that are met in practice, by their registered tag (RFC 2361). */
const COMPRESSED: ReadonlyMap<number, string> = new Map([
  [0x0002, 'ADPCM'],
  [0x0006, 'A-law'],
  [0x0007, 'mu-law'],
  [0x0011, 'ADPCM'],
  [0x0031, 'GSM'],
  [0x0050, 'MPEG'],
  [0x0055, 'MP3'],
]);

/** @throws PlainError where the format cannot be read. */
export function parseWavFormat(name: string, bytes: Uint8Array, bigEndian: boolean): WavFormat {
  if (bytes.length < 16) throw new PlainError(name, 'The fmt chunk is cut short.', 'Export the file again.');
  const view = viewOf(bytes);
  const little = !bigEndian;
  const bits = view.getUint16(14, little);
  const channels = view.getUint16(2, little);
  const statedTag = view.getUint16(0, little);
  const extended = statedTag === TAG_EXTENSIBLE && bytes.length >= 40;
  const tag = extended ? subFormat(name, bytes, little) : statedTag;
  const validBits = extended ? view.getUint16(18, little) : bits;
  const faults: FileFault[] = [];
  const size = containerBytes(view.getUint16(12, little), bits, channels, faults);
  return {
    encoding: encodingOf(name, tag, size, bigEndian),
    validBits: validBits >= 1 && validBits <= 8 * size ? validBits : 8 * size,
    channels,
    sampleRate_Hz: view.getUint32(4, little),
    channelMask: extended ? view.getUint32(20, little) : null,
    faults,
  };
}

function subFormat(name: string, bytes: Uint8Array, little: boolean): number {
  const view = viewOf(bytes);
  // in a big-endian file the GUID's first three fields are big-endian too; its last eight bytes never turn
  const known = little
    ? GUID_TAIL.every((byte, i) => bytes[28 + i] === byte)
    : GUID_TAIL.slice(4).every((byte, i) => bytes[32 + i] === byte);
  if (!known) {
    throw new PlainError(name, 'Its sample format is not PCM or float.', 'Export it as WAV, 16, 24 or 32 bit.');
  }
  return view.getUint32(24, little);
}

/** The block size tells how wide a sample is stored; where it makes no sense, the bits do. */
function containerBytes(blockAlign: number, bits: number, channels: number, faults: FileFault[]): number {
  const least = Math.ceil(bits / 8);
  const stored = blockAlign / channels;
  if (Number.isInteger(stored) && stored >= least && stored <= Math.max(4, least)) return stored;
  if (channels > 0) {
    faults.push({
      id: 'block-align',
      sentence: `The header gives ${blockAlign} bytes a frame for ${channels} channels of ${bits} bits; the bits are believed.`,
    });
  }
  return least;
}

function encodingOf(name: string, tag: number, bytes: number, bigEndian: boolean): SampleEncoding {
  if (tag === TAG_PCM && bytes >= 1 && bytes <= 4) {
    return { kind: bytes === 1 ? 'offset-integer' : 'integer', bytes, bigEndian };
  }
  if (tag === TAG_FLOAT && (bytes === 4 || bytes === 8)) return { kind: 'float', bytes, bigEndian };
  const kind = COMPRESSED.get(tag);
  const what =
    kind !== undefined
      ? `It holds ${kind} sound, which a WAV header can hide.`
      : `Its sample format (tag ${tag}, ${8 * bytes} bits) is not one of 8 to 32 bit integer, 32 or 64 bit float.`;
  throw new PlainError(name, what, 'Export it as WAV, 16, 24 or 32 bit.');
}
