import type { AudioBlock, AudioFileFacts, AudioReader } from '../core/audio-file/audio-reader.js';
import type { Channel } from '../core/signal/stereo-signal.js';

const BLOCK_FRAMES = 65_536;

/** A file that can only be decoded from its beginning: decoded once, as far as it is asked for, and kept. */
export class KeptReader implements AudioReader {
  readonly facts: AudioFileFacts;
  private kept: readonly Float32Array[] | null = null;
  private known = 0;
  private decoding: Promise<void> = Promise.resolve();

  /** @param reader one that gives Float32 samples. */
  constructor(private readonly reader: AudioReader) {
    this.facts = reader.facts;
  }

  async readFrames(from: number, count: number): Promise<Channel[]> {
    const end = Math.min(from + count, this.facts.frameCount);
    // one at a time: the decoder goes forward only
    this.decoding = this.decoding.then(
      () => this.decodeTo(end),
      () => this.decodeTo(end),
    );
    await this.decoding;
    return this.room.map((channel) => channel.slice(from, Math.max(from, end)));
  }

  async readBlock(from: number, count: number): Promise<AudioBlock> {
    return { channels: await this.readFrames(from, count), notFiniteCount: 0 };
  }

  /** Memory for the whole file, taken when it is first asked for. */
  private get room(): readonly Float32Array[] {
    const { channels, frameCount } = this.facts;
    this.kept ??= Array.from({ length: channels }, () => new Float32Array(frameCount));
    return this.kept;
  }

  private async decodeTo(end: number): Promise<void> {
    while (this.known < end) {
      const block = await this.reader.readFrames(this.known, BLOCK_FRAMES);
      block.forEach((channel, c) => this.room[c]!.set(channel, this.known));
      this.known += block[0]!.length;
    }
  }
}
