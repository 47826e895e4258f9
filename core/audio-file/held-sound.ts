import type { Channel } from '../signal/stereo-signal.js';
import type { AudioBlock, AudioFileFacts, AudioReader } from './audio-reader.js';

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

  /** @throws PlainError where the file cannot be read. */
  static async read(reader: AudioReader): Promise<HeldSound> {
    const { channels, notFiniteCount } = await reader.readBlock(0, reader.facts.frameCount);
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
