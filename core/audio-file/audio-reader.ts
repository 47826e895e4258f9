import type { Channel } from '../signal/stereo-signal.js';
import type { FileFault } from '../song/song.js';
import type { BroadcastExtension } from './broadcast-extension.js';

/** A chunk of a file, so that it can be found and copied byte for byte: `offset` and `length` are those of its content. */
export interface ChunkPlace {
  readonly id: string;
  readonly offset: number;
  readonly length: number;
}

/** What a file says of itself, and what is wrong with what it says. */
export interface AudioFileFacts {
  readonly name: string;
  readonly container: 'wav' | 'rifx' | 'rf64' | 'bw64' | 'aiff' | 'aifc' | 'flac';
  readonly channels: number;
  /** As the file stores it: `8`, `16`, `24`, `32` integer, `32f`, `64f` float. */
  readonly bitDepth: string;
  /** Bits of the stored sample that carry sound; the others are padding. */
  readonly validBits: number;
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  readonly duration_s: number;
  /** Loudspeaker positions of WAVE_FORMAT_EXTENSIBLE, a bit each; null where the file does not say. */
  readonly channelMask: number | null;
  readonly broadcast: BroadcastExtension | null;
  /** Every chunk in file order, the sound itself included. */
  readonly chunks: readonly ChunkPlace[];
  /** MD5 of the integers, hexadecimal, where the file holds it (FLAC); null elsewhere. */
  readonly samplesMd5: string | null;
  readonly faults: readonly FileFault[];
}

/** A piece of sound. Samples that were no number stand as 0 and are counted. */
export interface AudioBlock {
  readonly channels: Channel[];
  readonly notFiniteCount: number;
}

/**
 * A sound file opened for reading in blocks. Channels are Float32Array where that holds the file exactly (integers up to 24 bits,
 * 32-bit float), Float64Array otherwise. Full scale is 1. Magnitudes under 1e-30 are read as 0.
 */
export interface AudioReader {
  readonly facts: AudioFileFacts;
  /** Frames from .. from + count, fewer only at the end. @throws PlainError where the file cannot be read. */
  readFrames(from: number, count: number): Promise<Channel[]>;
  readBlock(from: number, count: number): Promise<AudioBlock>;
}
