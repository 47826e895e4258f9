import { cosCycles } from '../units/exact-math.js';
import { TICK } from './stereo-unit.js';

/** Ticks that a change of settings takes to pass from the old sound to the new: 8 ticks, 21 ms at 48 kHz. */
export const FADE_TICKS = 8;

/** Frames of one fade. */
export const FADE_FRAMES = FADE_TICKS * TICK;

/**
 * Share of the new sound, sample by sample: a raised cosine (1 - cos(pi (n + 1) / N)) / 2, ending at exactly 1. Two linear
 * versions of the same signal are alike, so the shares of old and new add to 1 in amplitude.
 */
export const FADE_CURVE = makeFadeCurve();

function makeFadeCurve(): Float64Array {
  const curve = new Float64Array(FADE_FRAMES);
  for (let n = 0; n < FADE_FRAMES; n++) curve[n] = 0.5 - 0.5 * cosCycles((n + 1) / (2 * FADE_FRAMES));
  curve[FADE_FRAMES - 1] = 1;
  return curve;
}

/**
 * When a change that was asked for begins and ends: it begins with the next whole tick, or after the fade that is running.
 * The unit asks `beginTick` first thing in a tick (true: bring in the new setting now) and `endTick` last (true: the new one
 * is the only one now).
 */
export class FadeClock {
  private wanted = false;
  private tick = FADE_TICKS;

  get running(): boolean {
    return this.tick < FADE_TICKS;
  }

  /** Whether a change waits for the fade before it. */
  get waiting(): boolean {
    return this.wanted;
  }

  /** Where the running fade stands in FADE_CURVE. */
  get frame(): number {
    return this.tick * TICK;
  }

  request(): void {
    this.wanted = true;
  }

  /** No change is under way any more. */
  settle(): void {
    this.wanted = false;
    this.tick = FADE_TICKS;
  }

  beginTick(): boolean {
    if (!this.wanted || this.running) return false;
    this.wanted = false;
    this.tick = 0;
    return true;
  }

  endTick(): boolean {
    if (!this.running) return false;
    this.tick += 1;
    return !this.running;
  }
}
