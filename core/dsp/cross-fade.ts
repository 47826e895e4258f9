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
