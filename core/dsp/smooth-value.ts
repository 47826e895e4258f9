import { FADE_CURVE, FADE_FRAMES } from './cross-fade.js';

/**
 * A setting that moves to its new value without a click: a raised cosine over FADE_TICKS ticks, beginning at the next tick.
 * A change during a move starts from where the value is. Never allocates after construction.
 */
export class SmoothValue {
  // Parameter
  private target: number;
  // State
  private from: number;
  private progress = FADE_FRAMES;

  constructor(initial: number) {
    this.target = initial;
    this.from = initial;
  }

  /** NaN keeps the old target. */
  set(target: number, atOnce: boolean): void {
    if (target !== target) return;
    if (atOnce) {
      this.target = target;
      this.progress = FADE_FRAMES;
    } else if (target !== this.target) {
      this.from = this.value;
      this.target = target;
      this.progress = 0;
    }
  }

  get value(): number {
    if (this.progress >= FADE_FRAMES) return this.target;
    return this.from + (this.target - this.from) * (this.progress > 0 ? FADE_CURVE[this.progress - 1]! : 0);
  }

  get goal(): number {
    return this.target;
  }

  get settled(): boolean {
    return this.progress >= FADE_FRAMES;
  }

  /** The values of the next tick, into the first `frameCount` places. */
  fill(values: Float64Array, frameCount: number): void {
    const { from, target } = this;
    if (this.progress >= FADE_FRAMES && frameCount === values.length) {
      values.fill(target);
      return;
    }
    for (let i = 0; i < frameCount; i++) {
      if (this.progress >= FADE_FRAMES) {
        values[i] = target;
      } else {
        this.progress += 1;
        values[i] = this.progress >= FADE_FRAMES ? target : from + (target - from) * FADE_CURVE[this.progress - 1]!;
      }
    }
  }

  /** Ends a move that is under way. */
  reset(): void {
    this.progress = FADE_FRAMES;
  }
}
