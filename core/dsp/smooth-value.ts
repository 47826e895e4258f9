import { raisedCosine } from './raised-cosine.js';
import { TICK } from './stereo-unit.js';

/** Ticks that a change takes: 1024 samples, 21 ms at 48 kHz. */
export const FADE_TICKS = 8;

const FADE_LENGTH = FADE_TICKS * TICK;
const RISE = Float64Array.from({ length: FADE_LENGTH + 1 }, (_, i) => raisedCosine(i / FADE_LENGTH));

/**
 * A setting that moves to its new value without a click: a raised cosine over FADE_TICKS ticks, beginning at the next tick.
 * A change during a move starts from where the value is. Never allocates after construction.
 */
export class SmoothValue {
  // Parameter
  private target: number;
  // State
  private from: number;
  private progress = FADE_LENGTH;

  constructor(initial: number) {
    this.target = initial;
    this.from = initial;
  }

  /** NaN keeps the old target. */
  set(target: number, atOnce: boolean): void {
    if (target !== target) return;
    if (atOnce) {
      this.target = target;
      this.progress = FADE_LENGTH;
    } else if (target !== this.target) {
      this.from = this.value;
      this.target = target;
      this.progress = 0;
    }
  }

  get value(): number {
    if (this.progress >= FADE_LENGTH) return this.target;
    return this.from + (this.target - this.from) * RISE[this.progress]!;
  }

  get goal(): number {
    return this.target;
  }

  get settled(): boolean {
    return this.progress >= FADE_LENGTH;
  }

  /** The values of the next tick, into the first `frameCount` places. */
  fill(values: Float64Array, frameCount: number): void {
    const { from, target } = this;
    for (let i = 0; i < frameCount; i++) {
      if (this.progress >= FADE_LENGTH) {
        values[i] = target;
      } else {
        this.progress += 1;
        values[i] = this.progress >= FADE_LENGTH ? target : from + (target - from) * RISE[this.progress]!;
      }
    }
  }

  /** Ends a move that is under way. */
  reset(): void {
    this.progress = FADE_LENGTH;
  }
}
