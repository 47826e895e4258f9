import type { StateTape } from '../dsp/state-tape.js';
import { FadingBiquads } from '../dsp/fading-biquads.js';
import { BUTTERWORTH_QUALITY } from '../dsp/linkwitz-riley.js';
import { TICK, type StereoUnit } from '../dsp/stereo-unit.js';

/**
 * The other half of a recursive split: the second-order all-pass that the split turns the bass by, put on what sums with the
 * bass, so that they keep their agreement. Off, the sound passes to the bit. No latency.
 */
export class RecursiveTurn implements StereoUnit {
  readonly latencySamples = 0;
  private corner_Hz = 0;
  private everTurned = false;
  private readonly allPass: FadingBiquads;

  constructor(sampleRate_Hz: number) {
    this.allPass = new FadingBiquads(sampleRate_Hz, 1);
  }

  /** @param corner_Hz of the split, or 0 for none. A change cross-fades. */
  setCorner(corner_Hz: number, atOnce: boolean): void {
    if (corner_Hz === this.corner_Hz && !atOnce) return;
    this.corner_Hz = corner_Hz;
    if (corner_Hz > 0) this.everTurned = true;
    if (corner_Hz > 0) this.allPass.spare.setAllPass(0, corner_Hz, BUTTERWORTH_QUALITY);
    else this.allPass.spare.setThrough(0);
    this.allPass.commit(atOnce);
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (this.everTurned && frameCount === TICK) this.allPass.process(left, right, TICK);
  }

  reset(): void {
    this.allPass.reset();
    this.everTurned = this.corner_Hz > 0;
  }

  passState(tape: StateTape): void {
    this.allPass.passState(tape);
  }

  flush(): void {
    this.allPass.flush();
  }
}
