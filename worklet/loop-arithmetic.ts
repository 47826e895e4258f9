import { FADE_FRAMES } from '../core/dsp/cross-fade.js';
import { TICK } from '../core/dsp/stereo-unit.js';
import type { Loop } from '../protocol/engine-messages.js';

const LONGEST_PRE_ROLL_S = 2;
const ENOUGH_PRE_ROLL_S = 1;
const SHORTEST_LOOP_S = 0.2;

/** Samples of the shortest loop: there must be time to fade out of one round and to make the next one ready. */
export function shortestLoop(sampleRate_Hz: number): number {
  return Math.ceil(SHORTEST_LOOP_S * sampleRate_Hz);
}

/** How each round of a loop is made ready while the one before it sounds. */
export interface LoopPace {
  /** Ticks run for each tick that sounds. */
  readonly ticks: 1 | 2;
  /** Samples run unheard before the round. */
  readonly preRoll: number;
}

/**
 * 2 s before each round, or as much as can be run while one round sounds: tick by tick where that is 1 s at least, so that a
 * block costs two chains; at twice the pace in shorter loops, where it costs three.
 */
export function loopPace(loop: Loop, latencySamples: number, sampleRate_Hz: number): LoopPace {
  const free = loop.to - loop.from - FADE_FRAMES - 16 * TICK;
  const ticks = free - latencySamples >= ENOUGH_PRE_ROLL_S * sampleRate_Hz ? 1 : 2;
  const most = ticks * free - latencySamples;
  return { ticks, preRoll: Math.max(0, Math.min(Math.round(LONGEST_PRE_ROLL_S * sampleRate_Hz), most)) };
}
