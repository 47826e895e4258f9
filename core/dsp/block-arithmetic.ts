import { flushed } from './stereo-unit.js';

/*
 * What is done to whole blocks of samples, four at a time: engines of JavaScript look up where an array lies at every turn of a
 * loop, so that a loop of single samples costs two to three times as much. Every sample has the bits of a plain loop.
 */

/** to[at + n] = from[n], flushed. */
export function copyFlushed(from: Float64Array, to: Float64Array, at: number, frameCount: number): void {
  let n = 0;
  for (; n + 3 < frameCount; n += 4) {
    to[at + n] = flushed(from[n]!);
    to[at + n + 1] = flushed(from[n + 1]!);
    to[at + n + 2] = flushed(from[n + 2]!);
    to[at + n + 3] = flushed(from[n + 3]!);
  }
  for (; n < frameCount; n++) to[at + n] = flushed(from[n]!);
}

/** sum[n] += added[n]. */
export function addBlock(sum: Float64Array, added: Float64Array, frameCount: number): void {
  let n = 0;
  for (; n + 3 < frameCount; n += 4) {
    sum[n] = sum[n]! + added[n]!;
    sum[n + 1] = sum[n + 1]! + added[n + 1]!;
    sum[n + 2] = sum[n + 2]! + added[n + 2]!;
    sum[n + 3] = sum[n + 3]! + added[n + 3]!;
  }
  for (; n < frameCount; n++) sum[n] = sum[n]! + added[n]!;
}

/** sound[n] += share[n] (other[n] - sound[n]). */
export function mixBlock(sound: Float64Array, other: Float64Array, share: Float64Array, frameCount: number): void {
  let n = 0;
  for (; n + 3 < frameCount; n += 4) {
    sound[n] = sound[n]! + share[n]! * (other[n]! - sound[n]!);
    sound[n + 1] = sound[n + 1]! + share[n + 1]! * (other[n + 1]! - sound[n + 1]!);
    sound[n + 2] = sound[n + 2]! + share[n + 2]! * (other[n + 2]! - sound[n + 2]!);
    sound[n + 3] = sound[n + 3]! + share[n + 3]! * (other[n + 3]! - sound[n + 3]!);
  }
  for (; n < frameCount; n++) sound[n] = sound[n]! + share[n]! * (other[n]! - sound[n]!);
}
