import type { StateTape } from './state-tape.js';
import type { Hertz } from '../units/units.js';
import { FadingBiquads } from './fading-biquads.js';
import { TICK, type StereoUnit } from './stereo-unit.js';

export const BUTTERWORTH_QUALITY = Math.SQRT1_2;

/**
 * Recursive split by a fourth-order Linkwitz-Riley pair: each side is a second-order Butterworth filter twice. Both are
 * -6.02 dB at the corner and in phase everywhere, and their sum is a second-order all-pass of quality 0.7071 at the corner:
 * level untouched, phase turned by 360 degrees in all, by 180 at the corner.
 * Source: S. H. Linkwitz, "Active Crossover Networks for Noncoincident Drivers", JAES 24(1), 1976, p. 2.
 *
 * `process` leaves the all-passed sum in place and the low side in `lowLeft`, `lowRight`; the high side is what is between.
 *
 * Latency   0 samples (a phase turn is not latency).
 * Changes   a new corner cross-fades from the next tick on.
 */
export class LinkwitzRiley implements StereoUnit {
  readonly latencySamples = 0;
  /** The low side of the last tick. */
  readonly lowLeft = new Float64Array(TICK);
  readonly lowRight = new Float64Array(TICK);
  private readonly low: FadingBiquads;
  private readonly high: FadingBiquads;

  constructor(sampleRate_Hz: Hertz, corner_Hz: Hertz) {
    this.low = new FadingBiquads(sampleRate_Hz, 2);
    this.high = new FadingBiquads(sampleRate_Hz, 2);
    this.setCorner(corner_Hz, true);
  }

  setCorner(corner_Hz: Hertz, atOnce: boolean): void {
    for (let section = 0; section < 2; section++) {
      this.low.spare.setLowPass(section, corner_Hz, BUTTERWORTH_QUALITY);
      this.high.spare.setHighPass(section, corner_Hz, BUTTERWORTH_QUALITY);
    }
    this.low.commit(atOnce);
    this.high.commit(atOnce);
  }

  /** Whole ticks only. */
  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (frameCount !== TICK) return;
    this.lowLeft.set(left);
    this.lowRight.set(right);
    this.low.process(this.lowLeft, this.lowRight, TICK);
    this.high.process(left, right, TICK);
    for (let n = 0; n < TICK; n++) {
      left[n] = this.lowLeft[n]! + left[n]!;
      right[n] = this.lowRight[n]! + right[n]!;
    }
  }

  reset(): void {
    this.low.reset();
    this.high.reset();
  }

  passState(tape: StateTape): void {
    this.low.passState(tape);
    this.high.passState(tape);
  }

  flush(): void {
    this.low.flush();
    this.high.flush();
  }
}
