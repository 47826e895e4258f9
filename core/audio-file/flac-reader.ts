import { PlainError } from '../units/plain-error.js';
import type { Channel } from '../signal/stereo-signal.js';
import type { AudioBlock, AudioFileFacts, AudioReader } from './audio-reader.js';
import type { ByteSource } from './byte-source.js';
import type { CompressedDecoders, CompressedStream } from './compressed-decoders.js';
import { readFlacStreamInfo } from './flac-stream-info.js';
import { checkReadable } from './sound-limits.js';

/** Beyond 24 bits the decoder's 32-bit float no longer holds the integers. */
const MOST_BITS = 24;

/** @throws PlainError where it cannot be read. */
export async function openFlac(name: string, source: ByteSource, decoders: CompressedDecoders): Promise<AudioReader> {
  const info = await readFlacStreamInfo(name, source);
  if (info.bits > MOST_BITS) {
    throw new PlainError(name, `FLAC of ${info.bits} bits is not read.`, 'Export it as WAV or as FLAC of 24 bits.');
  }
  const stream = await decoders.openFlac(name, source, info);
  const frameCount = info.frameCount > 0 ? info.frameCount : await countFrames(stream);
  const facts: AudioFileFacts = {
    name,
    container: 'flac',
    channels: info.channels,
    bitDepth: `${8 * Math.ceil(info.bits / 8)}`,
    validBits: info.bits,
    sampleRate_Hz: info.sampleRate_Hz,
    frameCount,
    duration_s: frameCount / info.sampleRate_Hz,
    channelMask: null,
    broadcast: null,
    chunks: [],
    samplesMd5: info.samplesMd5,
    faults: [],
  };
  checkReadable(facts);
  return new StreamReader(facts, stream);
}

async function countFrames(stream: CompressedStream): Promise<number> {
  let count = 0;
  for (let piece = await stream.next(); piece !== null; piece = await stream.next()) count += piece[0]?.length ?? 0;
  await stream.rewind();
  return count;
}

/** So far ahead it is decoded through, further it is sought. */
const DECODED_THROUGH_S = 5;

/** Frames of a stream that is decoded in order; a step back or a long one ahead is sought. */
class StreamReader implements AudioReader {
  private piece: readonly Channel[] = [];
  private pieceStart = 0;

  constructor(
    readonly facts: AudioFileFacts,
    private readonly stream: CompressedStream,
  ) {}

  async readFrames(from: number, count: number): Promise<Channel[]> {
    return (await this.readBlock(from, count)).channels;
  }

  async readBlock(from: number, count: number): Promise<AudioBlock> {
    const { channels: channelCount, frameCount } = this.facts;
    const start = Math.min(Math.max(0, from), frameCount);
    const end = Math.min(Math.max(start, from + count), frameCount);
    const channels = Array.from({ length: channelCount }, () => new Float32Array(end - start));
    if (this.isElsewhere(start)) await this.seek(start);
    for (let frame = start; frame < end;) {
      const pieceEnd = this.pieceStart + (this.piece[0]?.length ?? 0);
      if (frame >= pieceEnd) {
        await this.advance(pieceEnd);
        continue;
      }
      const until = Math.min(end, pieceEnd);
      channels.forEach((channel, index) => {
        const part = this.piece[index]!.subarray(frame - this.pieceStart, until - this.pieceStart);
        channel.set(part, frame - start);
      });
      frame = until;
    }
    return { channels, notFiniteCount: 0 };
  }

  private isElsewhere(start: number): boolean {
    const { frameCount, sampleRate_Hz } = this.facts;
    if (start >= frameCount) return false;
    return start < this.pieceStart || start > this.pieceStart + DECODED_THROUGH_S * sampleRate_Hz;
  }

  private async seek(frame: number): Promise<void> {
    this.piece = [];
    this.pieceStart = (await this.stream.seek(frame)) ?? 0;
  }

  private async advance(pieceEnd: number): Promise<void> {
    const piece = await this.stream.next();
    if (piece === null) {
      const { name, frameCount } = this.facts;
      throw new PlainError(
        name,
        `The header declares ${frameCount} samples per channel, but only ${pieceEnd} can be decoded; the file is cut short or damaged.`,
        'Export it again.',
      );
    }
    this.piece = piece;
    this.pieceStart = pieceEnd;
  }
}
