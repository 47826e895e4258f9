import { FLACDecoder, type FLACDecodedAudio } from '@wasm-audio-decoders/flac';
import type { ByteSource } from '../core/audio-file/byte-source.js';
import type { CompressedStream } from '../core/audio-file/compressed-decoders.js';
import type { FlacStreamInfo } from '../core/audio-file/flac-stream-info.js';
import { PlainError } from '../core/units/plain-error.js';
import { findFlacFrame, MOST_HEADER_BYTES } from './flac-frame-header.js';

const READ_BYTES = 1 << 16;
/** A place is near enough where it lies no more than this before the one that is sought. */
const NEAR_S = 1;
/** So often the last frame is given again: enough bytes for the library to look ahead. */
const REPEATS = 4;
/** After so many guesses a stream is decoded from its beginning. */
const MOST_GUESSES = 12;

/**
 * A FLAC file, decoded piece by piece. The library scales integers by 1 / (2^(b-1) - 1) into 32-bit float; up to 24 bits
 * round(v (2^(b-1) - 1)) is the integer itself again (measured for this project on 2 000 000 values at 24 bits and on all
 * values at 16), and n / 2^(b-1) is what every other reader here gives.
 */
export class FlacStream implements CompressedStream {
  private offset = 0;
  private ended = false;
  /** Where the next sample stands. */
  private sample = 0;

  private constructor(
    private readonly name: string,
    private readonly source: ByteSource,
    private readonly info: FlacStreamInfo,
    private readonly decoder: FLACDecoder,
  ) {}

  static async open(name: string, source: ByteSource, info: FlacStreamInfo): Promise<FlacStream> {
    const decoder = new FLACDecoder();
    await decoder.ready;
    return new FlacStream(name, source, info, decoder);
  }

  async next(): Promise<readonly Float32Array[] | null> {
    while (!this.ended) {
      const decoded = await this.decodeNext();
      if (decoded.errors.length > 0) throw this.damaged();
      const count = this.isCounted
        ? Math.min(decoded.samplesDecoded, this.info.frameCount - this.sample)
        : decoded.samplesDecoded;
      if (count <= 0) continue;
      this.sample += count;
      return this.exactChannels(decoded).map((channel) => channel.subarray(0, count));
    }
    return null;
  }

  async rewind(): Promise<void> {
    await this.decodeFrom(0, 0);
  }

  private get isCounted(): boolean {
    return this.info.frameCount > 0;
  }

  /** Frames say where they stand: the bytes are halved, by the share of the samples, until a frame lies near enough before. */
  async seek(frame: number): Promise<number | null> {
    const { frameCount, sampleRate_Hz } = this.info;
    if (frameCount === 0) {
      await this.rewind();
      return 0;
    }
    const near = NEAR_S * sampleRate_Hz;
    let before = { at: 0, sample: 0 };
    let behind = { at: this.source.size, sample: frameCount };
    for (let guess = 0; guess < MOST_GUESSES && frame - before.sample > near; guess++) {
      const share = (frame - near / 2 - before.sample) / (behind.sample - before.sample);
      const at = Math.floor(before.at + Math.max(0, Math.min(1, share)) * (behind.at - before.at));
      const found = findFlacFrame(await this.source.read(at, READ_BYTES), this.info);
      if (found === null || found.sample >= behind.sample) behind = { at, sample: frame };
      else if (found.sample > frame) behind = { at, sample: found.sample };
      else if (found.sample > before.sample) before = { at: at + found.at, sample: found.sample };
      else break;
    }
    await this.decodeFrom(before.at, before.sample);
    return before.sample;
  }

  private async decodeFrom(offset: number, sample: number): Promise<void> {
    await this.decoder.reset();
    this.sample = sample;
    this.offset = offset;
    this.ended = false;
  }

  private async decodeNext(): Promise<FLACDecodedAudio> {
    const bytes = await this.source.read(this.offset, READ_BYTES);
    this.offset += bytes.length;
    this.ended = bytes.length === 0;
    try {
      if (!this.ended) return await this.decoder.decode(bytes);
      const ending = this.isCounted ? await this.lastFrames() : null;
      return await (ending === null ? this.decoder.flush() : this.decoder.decode(ending));
    } catch {
      throw this.damaged();
    }
  }

  /**
   * The library takes a frame for whole where others begin, and drops a last one of few bytes (silence) when it is flushed: the
   * last frame given again ends the one before it, itself. What it decodes beyond the declared samples is cut off.
   */
  private async lastFrames(): Promise<Uint8Array | null> {
    const tail = await this.source.read(Math.max(0, this.offset - READ_BYTES), READ_BYTES);
    const searched = new Uint8Array(tail.length + MOST_HEADER_BYTES);
    searched.set(tail);
    let last = -1;
    for (let found = findFlacFrame(searched, this.info); found !== null;) {
      last += 1 + found.at;
      found = findFlacFrame(searched.subarray(last + 1), this.info);
    }
    if (last < 0) return null;
    const frame = tail.subarray(last);
    const frames = new Uint8Array(REPEATS * frame.length);
    for (let i = 0; i < REPEATS; i++) frames.set(frame, i * frame.length);
    return frames;
  }

  private exactChannels(decoded: FLACDecodedAudio): Float32Array[] {
    const { bits, channels } = this.info;
    if (decoded.bitDepth !== bits || decoded.channelData.length !== channels) throw this.damaged();
    const fullScale = 2 ** (bits - 1);
    return decoded.channelData.map((channel) =>
      channel.map((value) => Math.round(value * (fullScale - 1)) / fullScale),
    );
  }

  private damaged(): PlainError {
    return new PlainError(this.name, 'The FLAC stream is damaged.', 'Export it again, or decode it to WAV.');
  }
}
