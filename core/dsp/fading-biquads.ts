import type { StateTape } from './state-tape.js';
import type { Hertz } from '../units/units.js';
import { FADE_CURVE, FadeClock } from './cross-fade.js';
import { StereoBiquads } from './stereo-biquads.js';
import { TICK, type StereoUnit } from './stereo-unit.js';

/**
 * Second-order sections whose setting changes without a click: write `spare`, then `commit`; from the next tick on the new
 * filter, started from what the old one has heard, fades in over FADE_TICKS. Nothing is allocated after construction.
 */
export class FadingBiquads implements StereoUnit {
  readonly latencySamples = 0;
  /** Write the next setting here, all sections, before `commit`. */
  readonly spare: StereoBiquads;
  private now: StereoBiquads;
  private next: StereoBiquads;
  private readonly fade = new FadeClock();
  private readonly fadingLeft = new Float64Array(TICK);
  private readonly fadingRight = new Float64Array(TICK);

  constructor(sampleRate_Hz: Hertz, sectionCount: number) {
    this.spare = new StereoBiquads(sampleRate_Hz, sectionCount);
    this.now = new StereoBiquads(sampleRate_Hz, sectionCount);
    this.next = new StereoBiquads(sampleRate_Hz, sectionCount);
  }

  commit(atOnce: boolean): void {
    if (atOnce) {
      this.now.copySettingOf(this.spare);
      this.fade.settle();
    } else {
      this.fade.request();
    }
  }

  /** Whole ticks only. */
  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (frameCount !== TICK) return;
    if (this.fade.beginTick()) {
      this.next.copySettingOf(this.spare);
      this.next.copyStateOf(this.now);
    }
    if (this.fade.running) {
      this.fadingLeft.set(left);
      this.fadingRight.set(right);
      this.next.process(this.fadingLeft, this.fadingRight, TICK);
    }
    this.now.process(left, right, TICK);
    if (!this.fade.running) return;
    const from = this.fade.frame;
    for (let n = 0; n < TICK; n++) {
      const share = FADE_CURVE[from + n]!;
      left[n] = left[n]! + share * (this.fadingLeft[n]! - left[n]!);
      right[n] = right[n]! + share * (this.fadingRight[n]! - right[n]!);
    }
    if (this.fade.endTick()) this.swap();
  }

  reset(): void {
    if (this.fade.waiting) this.now.copySettingOf(this.spare);
    else if (this.fade.running) this.swap();
    this.fade.settle();
    this.now.reset();
    this.next.reset();
  }

  passState(tape: StateTape): void {
    this.now.passState(tape);
  }

  flush(): void {
    this.now.flush();
    if (this.fade.running) this.next.flush();
  }

  private swap(): void {
    const old = this.now;
    this.now = this.next;
    this.next = old;
  }
}
