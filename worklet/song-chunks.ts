import { TICK } from '../core/dsp/stereo-unit.js';
import type { ChainBlock, ChainInput } from '../core/treatment/treatment-chain.js';
import type { Treatment } from '../core/treatment/treatment.js';

/** The sound of the song that is at hand, in chunks of equal length; past the song's end there is silence. */
export class SongChunks {
  private readonly chunks: (ChainInput | null)[];
  private readonly silence: ChainInput;

  /** @throws RangeError unless a chunk is a whole number of ticks. */
  constructor(
    treatment: Treatment,
    private readonly frameCount: number,
    private readonly chunkFrames: number,
  ) {
    if (!(chunkFrames > 0 && chunkFrames % TICK === 0)) {
      throw new RangeError(`chunkFrames must be a multiple of ${TICK}, got ${chunkFrames}`);
    }
    this.chunks = Array.from({ length: Math.ceil(frameCount / chunkFrames) }, () => null);
    const zeros = new Float32Array(TICK); // of the kind that chunks are of
    const silent = (list: readonly unknown[]): ChainBlock[] => list.map(() => ({ left: zeros, right: zeros }));
    this.silence = {
      kick: silent(treatment.kick.tracks),
      bass: silent(treatment.bass.tracks),
      rest: silent(treatment.rest.tracks),
    };
  }

  /** Chunks that lie outside the song are left out. */
  put(index: number, sound: ChainInput): void {
    if (index >= 0 && index < this.chunks.length) this.chunks[index] = sound;
  }

  drop(index: number): void {
    if (index >= 0 && index < this.chunks.length) this.chunks[index] = null;
  }

  /** Whether everything from `from` to `to` is at hand. */
  has(from: number, to: number): boolean {
    const last = Math.min(Math.ceil(to / this.chunkFrames), this.chunks.length);
    for (let i = Math.max(0, Math.floor(from / this.chunkFrames)); i < last; i++) {
      if (this.chunks[i] === null) return false;
    }
    return true;
  }

  /** The chunk that holds the tick at `at`; silence past the song's end and where nothing is at hand. */
  soundAt(at: number): ChainInput {
    return this.chunks[Math.floor(at / this.chunkFrames)] ?? this.silence;
  }

  /** Where in `soundAt(at)` the tick begins. */
  offsetAt(at: number): number {
    const chunk = this.chunks[Math.floor(at / this.chunkFrames)];
    return chunk === null || chunk === undefined ? 0 : at % this.chunkFrames;
  }

  /** Whether the song is over at `at`, counted as it enters. */
  isPast(at: number): boolean {
    return at >= this.frameCount;
  }
}
