import { PlainError } from '../units/plain-error.js';
import type { Channel } from '../signal/stereo-signal.js';
import type { AudioBlock, AudioFileFacts, AudioReader } from './audio-reader.js';
import type { ByteSource } from './byte-source.js';
import { decodeSamples, emptyChannels, type SampleEncoding } from './sample-encoding.js';

/** Bytes asked from the source at once. */
const READ_BYTES = 1 << 20;

/** Reads interleaved, uncompressed samples that begin at `dataOffset`. */
export class PcmReader implements AudioReader {
  constructor(
    readonly facts: AudioFileFacts,
    private readonly source: ByteSource,
    private readonly encoding: SampleEncoding,
    private readonly dataOffset: number,
  ) {}

  async readFrames(from: number, count: number): Promise<Channel[]> {
    return (await this.readBlock(from, count)).channels;
  }

  async readBlock(from: number, count: number): Promise<AudioBlock> {
    const { encoding, facts } = this;
    const start = Math.min(Math.max(0, from), facts.frameCount);
    const end = Math.min(Math.max(start, from + count), facts.frameCount);
    const channels = emptyChannels(encoding, facts.channels, end - start);
    const frameBytes = encoding.bytes * facts.channels;
    const framesAtOnce = Math.max(1, Math.floor(READ_BYTES / frameBytes));
    let notFiniteCount = 0;
    for (let frame = start; frame < end; frame += framesAtOnce) {
      const wanted = Math.min(framesAtOnce, end - frame) * frameBytes;
      const bytes = await this.source.read(this.dataOffset + frame * frameBytes, wanted);
      if (bytes.length < wanted) throw shrunk(facts.name);
      notFiniteCount += decodeSamples(bytes, encoding, channels, frame - start);
    }
    return { channels, notFiniteCount };
  }
}

function shrunk(name: string): PlainError {
  return new PlainError(name, 'The file became shorter while it was read.', 'Let its export finish, then run again.');
}
