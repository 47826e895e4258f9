import { FADE_FRAMES } from '../core/dsp/cross-fade.js';
import { TICK } from '../core/dsp/stereo-unit.js';
import type { Loop } from '../protocol/engine-messages.js';

const LONGEST_PRE_ROLL_S = 2;
const SHORTEST_LOOP_S = 0.2;

/** Samples of the shortest loop: there must be time to fade out of one round and to make the next one ready. */
export function shortestLoop(sampleRate_Hz: number): number {
  return Math.ceil(SHORTEST_LOOP_S * sampleRate_Hz);
}

/**
 * Samples run unheard before each round of a loop: 2 s, or as much as can be run while one round sounds, when `speed` samples
 * are run for each that sounds.
 */
export function loopPreRoll(loop: Loop, latencySamples: number, sampleRate_Hz: number, speed: number): number {
  const free = loop.to - loop.from - FADE_FRAMES - 16 * TICK;
  const most = Math.floor(speed * free) - latencySamples;
  return Math.max(0, Math.min(Math.round(LONGEST_PRE_ROLL_S * sampleRate_Hz), most));
}
