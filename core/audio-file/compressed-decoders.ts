import type { Channel } from '../signal/stereo-signal.js';
import type { ByteSource } from './byte-source.js';
import type { FlacStreamInfo } from './flac-stream-info.js';

/** A compressed file that is decoded from its beginning, piece by piece. */
export interface CompressedStream {
  /** The next piece of each channel, exact integers n / 2^(b-1); null at the end. @throws PlainError on damage. */
  next(): Promise<readonly Channel[] | null>;
  /** The next piece is the first again. */
  rewind(): Promise<void>;
  /**
   * The next piece begins at this frame or shortly before it.
   * @returns its first frame; null where the place is not found, and the next piece is the first.
   */
  seek(frame: number): Promise<number | null>;
}

/** The port through which a host hands its decoders to the core. */
export interface CompressedDecoders {
  openFlac(name: string, source: ByteSource, info: FlacStreamInfo): Promise<CompressedStream>;
}
