import type { HasState } from './state-tape.js';

/**
 * The one shape of every unit that runs inside the treatment chain. Parameters, what is derived from them and state are three
 * visible groups in each class; setters never throw and never allocate, constructors may do both.
 *
 * The chain calls `process` with whole ticks of TICK frames, counted from song sample 0, whatever the host's block is, and
 * `flush` after each tick, so that no result depends on the host.
 */
export interface StereoUnit extends HasState {
  /** How many samples later the output answers. Fixed for the unit's life, whatever its settings. */
  readonly latencySamples: number;
  /** In place, on the first `frameCount` frames of both channels. Never allocates, never throws. */
  process(left: Float64Array, right: Float64Array, frameCount: number): void;
  /** Clears state, keeps parameters. */
  reset(): void;
  /** State below 1e-30, and NaN, becomes 0. */
  flush(): void;
}

/** Frames in one tick of the engine's grid. */
export const TICK = 128;

/** @returns `value`, or 0 where it is NaN or under 1e-30 in magnitude: no denormal is ever left in a state. */
export function flushed(value: number): number {
  return Math.abs(value) > 1e-30 ? value : 0;
}

/** Flushes a state array in place. */
export function flushArray(state: Float64Array): void {
  for (let i = 0; i < state.length; i++) state[i] = flushed(state[i]!);
}
