import { PlainError } from '../units/plain-error.js';
import type { FileFault } from '../song/song.js';
import type { AudioFileFacts, AudioReader, ChunkPlace } from './audio-reader.js';
import { textOf, viewOf } from './byte-text.js';
import type { ByteSource } from './byte-source.js';
import { PcmReader } from './pcm-reader.js';
import { bitDepthOf, type SampleEncoding } from './sample-encoding.js';
import { checkReadable } from './sound-limits.js';

const MOST_CHUNKS = 4096;

/** What the COMM chunk says. */
interface CommonChunk {
  readonly channels: number;
  readonly frameCount: number;
  readonly bits: number;
  readonly sampleRate_Hz: number;
  /** Four letters of AIFF-C; `NONE` in plain AIFF. */
  readonly compression: string;
}

/**
 * Opens AIFF (Audio Interchange File Format 1.3, 1989) and uncompressed AIFF-C (draft 1991): big-endian integers, and the kinds
 * `NONE`, `twos`, `sowt` (little-endian), `raw ` (offset), `fl32`, `fl64`. @throws PlainError where it cannot be read.
 */
export async function openAiff(name: string, source: ByteSource): Promise<AudioReader> {
  const head = textOf(await source.read(8, 4));
  const { chunks, faults } = await readChunks(name, source);
  const common = await readCommon(name, source, chunks);
  const encoding = encodingOf(name, common);
  const sound = chunks.find(({ id }) => id === 'SSND');
  if (sound === undefined || sound.length < 8) throw cut(name, 'SSND chunk, which holds the sound');
  const skipped = viewOf(await source.read(sound.offset, 4)).getUint32(0);
  const dataOffset = sound.offset + 8 + skipped;
  const frameBytes = Math.max(1, encoding.bytes * common.channels);
  const held = Math.max(0, Math.floor((sound.offset + sound.length - dataOffset) / frameBytes));
  const frameCount = Math.min(held, common.frameCount);
  const facts: AudioFileFacts = {
    name,
    container: head === 'AIFC' ? 'aifc' : 'aiff',
    channels: common.channels,
    bitDepth: bitDepthOf(encoding),
    validBits: encoding.kind === 'float' ? 8 * encoding.bytes : common.bits,
    sampleRate_Hz: common.sampleRate_Hz,
    frameCount,
    duration_s: frameCount / common.sampleRate_Hz,
    channelMask: null,
    broadcast: null,
    chunks,
    samplesMd5: null,
    faults: [...faults, ...unequalCount(common.frameCount, held)],
  };
  checkReadable(facts);
  return new PcmReader(facts, source, encoding, dataOffset);
}

async function readChunks(name: string, source: ByteSource): Promise<{ chunks: ChunkPlace[]; faults: FileFault[] }> {
  const chunks: ChunkPlace[] = [];
  const faults: FileFault[] = [];
  for (let offset = 12; offset + 8 <= source.size;) {
    const header = await source.read(offset, 8);
    const id = textOf(header.subarray(0, 4));
    const declared = viewOf(header).getUint32(4);
    if (!/^[ -~]{4}$/.test(id)) break;
    const length = Math.min(declared, source.size - offset - 8);
    if (length < declared) {
      const sentence = `The ${id.trim()} chunk declares ${declared} bytes, the file holds ${length}; these are read.`;
      faults.push({ id: 'declared-length', sentence });
    }
    chunks.push({ id, offset: offset + 8, length });
    if (chunks.length > MOST_CHUNKS) {
      throw new PlainError(name, `The file holds more than ${MOST_CHUNKS} chunks.`, 'Export it again as plain AIFF.');
    }
    offset += 8 + length + (length % 2);
  }
  return { chunks, faults };
}

async function readCommon(name: string, source: ByteSource, chunks: readonly ChunkPlace[]): Promise<CommonChunk> {
  const place = chunks.find(({ id }) => id === 'COMM');
  if (place === undefined || place.length < 18) throw cut(name, 'whole COMM chunk, which says what the samples are');
  const bytes = await source.read(place.offset, Math.min(place.length, 22));
  const view = viewOf(bytes);
  return {
    channels: view.getUint16(0),
    frameCount: view.getUint32(2),
    bits: view.getUint16(6),
    sampleRate_Hz: extended(view, 8),
    compression: bytes.length >= 22 ? textOf(bytes.subarray(18, 22)) : 'NONE',
  };
}

/** An 80-bit extended number (IEEE 754, SANE): sign and exponent biased by 16383, then 64 bits of mantissa, no hidden bit. */
function extended(view: DataView, at: number): number {
  const exponent = (view.getUint16(at) & 0x7fff) - 16383 - 63;
  const mantissa = view.getUint32(at + 2) * 4294967296 + view.getUint32(at + 6);
  let value = mantissa;
  const factor = exponent < 0 ? 0.5 : 2;
  for (let i = Math.min(Math.abs(exponent), 2048); i > 0; i--) value *= factor;
  return view.getUint16(at) >= 0x8000 ? -value : value;
}

function encodingOf(name: string, common: CommonChunk): SampleEncoding {
  const bytes = Math.ceil(common.bits / 8);
  const whole = bytes >= 1 && bytes <= 4;
  const kind = common.compression;
  if ((kind === 'NONE' || kind === 'twos') && whole) return { kind: 'integer', bytes, bigEndian: true };
  if (kind === 'sowt' && whole) return { kind: 'integer', bytes, bigEndian: false };
  if (kind === 'raw ' && bytes === 1) return { kind: 'offset-integer', bytes, bigEndian: true };
  if (/^fl32$/i.test(kind)) return { kind: 'float', bytes: 4, bigEndian: true };
  if (/^fl64$/i.test(kind)) return { kind: 'float', bytes: 8, bigEndian: true };
  throw new PlainError(
    name,
    `Its samples are of kind "${kind.trim()}", ${common.bits} bits, which is not read.`,
    'Export it as WAV or AIFF, 16, 24 or 32 bit.',
  );
}

function unequalCount(declared: number, held: number): FileFault[] {
  if (declared === held) return [];
  const sentence = `The header declares ${declared} frames, the file holds ${held}; the lesser number is read.`;
  return [{ id: 'declared-length', sentence }];
}

function cut(name: string, missing: string): PlainError {
  return new PlainError(name, `The file has no ${missing}; it is cut short or damaged.`, 'Export it again.');
}
