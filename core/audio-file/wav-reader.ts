import { PlainError } from '../units/plain-error.js';
import type { FileFault } from '../song/song.js';
import type { AudioFileFacts, AudioReader, ChunkPlace } from './audio-reader.js';
import { parseBroadcastExtension } from './broadcast-extension.js';
import type { ByteSource } from './byte-source.js';
import { PcmReader } from './pcm-reader.js';
import { readRiffChunks, type RiffChunks } from './riff-chunks.js';
import { bitDepthOf } from './sample-encoding.js';
import { checkReadable } from './sound-limits.js';
import { parseWavFormat } from './wav-format.js';

/** A `bext` chunk or a `fmt ` chunk longer than this is not believed. */
const LONGEST_HEADER_BYTES = 1 << 20;

const CONTAINERS = { RIFF: 'wav', RIFX: 'rifx', RF64: 'rf64', BW64: 'bw64' } as const;

/** Opens a WAV of any kind, any number of channels. @throws PlainError where it cannot be read. */
export async function openWav(name: string, source: ByteSource): Promise<AudioReader> {
  const riff = await readRiffChunks(name, source);
  const formatPlace = riff.chunks.find(({ id }) => id === 'fmt ');
  const data = riff.chunks.find(({ id }) => id === 'data');
  if (formatPlace === undefined) throw cut(name, 'fmt chunk, which says what the samples are');
  if (data === undefined) throw cut(name, 'data chunk, which holds the sound');
  const formatBytes = await source.read(formatPlace.offset, Math.min(formatPlace.length, LONGEST_HEADER_BYTES));
  const format = parseWavFormat(name, formatBytes, riff.bigEndian);
  const frameBytes = Math.max(1, format.encoding.bytes * format.channels);
  const frameCount = Math.floor(data.length / frameBytes);
  const facts: AudioFileFacts = {
    name,
    container: CONTAINERS[riff.form],
    channels: format.channels,
    bitDepth: bitDepthOf(format.encoding),
    validBits: format.validBits,
    sampleRate_Hz: format.sampleRate_Hz,
    frameCount,
    duration_s: frameCount / format.sampleRate_Hz,
    channelMask: format.channelMask,
    broadcast: await readBroadcast(source, riff.chunks),
    chunks: riff.chunks,
    samplesMd5: null,
    faults: [...riff.faults, ...format.faults, ...partFrame(riff, data, frameBytes)],
  };
  checkReadable(facts);
  return new PcmReader(facts, source, format.encoding, data.offset);
}

async function readBroadcast(source: ByteSource, chunks: readonly ChunkPlace[]): Promise<AudioFileFacts['broadcast']> {
  const place = chunks.find(({ id }) => id === 'bext');
  if (place === undefined) return null;
  return parseBroadcastExtension(await source.read(place.offset, Math.min(place.length, LONGEST_HEADER_BYTES)));
}

function partFrame(riff: RiffChunks, data: ChunkPlace, frameBytes: number): FileFault[] {
  const rest = data.length % frameBytes;
  if (rest === 0 || riff.faults.some(({ id }) => id === 'declared-length')) return [];
  const sentence = `The sound ends ${rest} bytes into a frame of ${frameBytes}; the part frame is left out.`;
  return [{ id: 'declared-length', sentence }];
}

function cut(name: string, missing: string): PlainError {
  return new PlainError(name, `The file has no ${missing}; it is cut short or damaged.`, 'Export it again.');
}
