import type { Loop } from '../../protocol/engine-messages.js';

/** Where the engine stands and will stand, in samples of the song. */
export interface PlanGround {
  readonly position: number;
  readonly preparing: number | null;
  readonly loop: Loop | null;
  readonly frameCount: number;
  readonly chunkFrames: number;
  /** Kept ahead of what is heard, and before each place that is jumped to. */
  readonly aheadFrames: number;
  readonly preRollFrames: number;
}

export interface ChunkPlan {
  /** Chunks to ask for, the most pressing first. */
  readonly ask: readonly number[];
  /** Chunks that are at hand or on their way and no longer needed. */
  readonly drop: readonly number[];
}

/** What must be asked for and what may go, so that the audio thread holds seconds and never the song. */
export function chunkPlan(ground: PlanGround, held: ReadonlySet<number>): ChunkPlan {
  const wanted = new Set<number>();
  const { position, preparing, loop, aheadFrames, preRollFrames } = ground;
  const begin = preparing ?? position;
  want(wanted, ground, begin - (preparing === null ? 0 : preRollFrames), begin + ground.chunkFrames);
  want(wanted, ground, position - ground.chunkFrames, position + aheadFrames);
  if (preparing !== null) want(wanted, ground, preparing, preparing + aheadFrames);
  if (loop !== null) want(wanted, ground, loop.from - preRollFrames, Math.min(loop.to, loop.from + aheadFrames));
  return {
    ask: [...wanted].filter((index) => !held.has(index)),
    drop: [...held].filter((index) => !wanted.has(index)),
  };
}

function want(wanted: Set<number>, { frameCount, chunkFrames }: PlanGround, from: number, to: number): void {
  const last = Math.min(Math.ceil(to / chunkFrames), Math.ceil(frameCount / chunkFrames));
  for (let index = Math.max(0, Math.floor(from / chunkFrames)); index < last; index++) wanted.add(index);
}
