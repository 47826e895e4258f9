import type { AudioBlock, AudioFileFacts, AudioReader } from '../core/audio-file/audio-reader.js';
import type { Channel } from '../core/signal/stereo-signal.js';

/** A file that is decoded, and so can be read at one place at a time: whoever asks waits for those who asked before. */
export class OneAtATime implements AudioReader {
  readonly facts: AudioFileFacts;
  private last: Promise<unknown> = Promise.resolve();

  constructor(private readonly reader: AudioReader) {
    this.facts = reader.facts;
  }

  readFrames(from: number, count: number): Promise<Channel[]> {
    return this.after(() => this.reader.readFrames(from, count));
  }

  readBlock(from: number, count: number): Promise<AudioBlock> {
    return this.after(() => this.reader.readBlock(from, count));
  }

  private after<Answer>(read: () => Promise<Answer>): Promise<Answer> {
    const next = this.last.then(read, read);
    this.last = next;
    return next;
  }
}
