import type { Channel } from '../signal/stereo-signal.js';
import type { AudioBlock, AudioFileFacts, AudioReader } from './audio-reader.js';

/** Long enough that asking for a block costs little beside decoding it, also where every read goes through another process. */
const BLOCK_FRAMES = 524_288;

/**
 * A file's whole sound, read once and handed out again as views of it: for those who look at it several times. Nobody may
 * write into what it gives.
 */
export class HeldSound implements AudioReader {
  private constructor(
    readonly facts: AudioFileFacts,
    readonly channels: readonly Channel[],
    private readonly notFiniteCount: number,
  ) {}

  /** Reads block by block. @throws PlainError where the file cannot be read. */
  static async read(reader: AudioReader): Promise<HeldSound> {
    const { channels: count, frameCount } = reader.facts;
    let whole: Channel[] | null = null;
    let notFiniteCount = 0;
    for (let from = 0; from < frameCount; from += BLOCK_FRAMES) {
      const block = await reader.readBlock(from, Math.min(BLOCK_FRAMES, frameCount - from));
      whole ??= block.channels.map((channel) =>
        channel instanceof Float64Array ? new Float64Array(frameCount) : new Float32Array(frameCount),
      );
      block.channels.forEach((channel, c) => whole![c]!.set(channel, from));
      notFiniteCount += block.notFiniteCount;
    }
    const channels = whole ?? Array.from({ length: count }, () => new Float32Array(frameCount));
    return new HeldSound(reader.facts, channels, notFiniteCount);
  }

  readFrames(from: number, count: number): Promise<Channel[]> {
    return Promise.resolve(
      this.channels.map((channel) => channel.subarray(Math.max(0, from), Math.max(0, from + count))),
    );
  }

  /** Which samples were no numbers is not kept, only how many: all are counted with the first frame. */
  async readBlock(from: number, count: number): Promise<AudioBlock> {
    const channels = await this.readFrames(from, count);
    return { channels, notFiniteCount: from <= 0 && count > 0 ? this.notFiniteCount : 0 };
  }
}
