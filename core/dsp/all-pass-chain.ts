import type { StateTape } from './state-tape.js';
import { exp2, log2 } from '../units/exact-math.js';
import type { Hertz } from '../units/units.js';
import { allPass, BiquadCascade } from './biquad.js';

export const ALL_PASS_SECTIONS = 12;
export const ALL_PASS_QUALITY = 3;
const LOWEST_HZ = 750;
const HIGHEST_HZ = 9000;

/**
 * Corners of the sections in geometric steps from 750 to 9000 Hz: 750, 940.09, 1178.35 ... 9000; where the rate is too low
 * for the highest, the row ends at 0.4 of it.
 */
export function allPassCorners_Hz(sampleRate_Hz: Hertz): number[] {
  const highest_Hz = Math.min(HIGHEST_HZ, 0.4 * sampleRate_Hz);
  const span = log2(highest_Hz / LOWEST_HZ);
  return Array.from({ length: ALL_PASS_SECTIONS }, (_, k) => LOWEST_HZ * exp2((span * k) / (ALL_PASS_SECTIONS - 1)));
}

/**
 * Turns the phase of one channel again and again over the range above the lows, level untouched: what is added in opposite
 * sign to the two sides of a stereo sound then makes it wide without a colour of its own.
 * Second-order all-passes of quality 3 in series. Source of the idea: M. R. Schroeder, "An Artificial Stereophonic Effect
 * Obtained from a Single Audio Signal", JAES 6(2), 1958 (from memory); the row of sections is measured for this project.
 */
export class AllPassChain {
  private readonly cascade: BiquadCascade;

  constructor(sampleRate_Hz: Hertz) {
    this.cascade = new BiquadCascade(
      allPassCorners_Hz(sampleRate_Hz).map((corner_Hz) => allPass(sampleRate_Hz, corner_Hz, ALL_PASS_QUALITY)),
    );
  }

  /** In place, one channel. */
  process(samples: Float64Array, frameCount: number): void {
    this.cascade.process(samples, frameCount);
  }

  reset(): void {
    this.cascade.reset();
  }

  passState(tape: StateTape): void {
    this.cascade.passState(tape);
  }

  flush(): void {
    this.cascade.flush();
  }
}
