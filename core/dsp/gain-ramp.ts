import { FADE_CURVE, FadeClock } from './cross-fade.js';
import { TICK } from './stereo-unit.js';

/**
 * A factor that moves to a new value over FADE_TICKS along a raised cosine, so that a turned knob makes no zipper noise.
 * `advance` once a tick; then `values` holds the factor of each sample, and `still` says whether all of them are equal.
 */
export class GainRamp {
  readonly values = new Float64Array(TICK);
  private from: number;
  private to: number;
  private wanted: number;
  private moving = false;
  private readonly fade = new FadeClock();

  constructor(value: number) {
    this.from = value;
    this.to = value;
    this.wanted = value;
    this.values.fill(value);
  }

  get still(): boolean {
    return !this.moving;
  }

  /** The value at rest, or the one it moves to. */
  get target(): number {
    return this.wanted;
  }

  set(value: number, atOnce: boolean): void {
    if (Number.isNaN(value)) return;
    if (atOnce) {
      this.wanted = value;
      this.settle();
    } else if (value !== this.wanted) {
      this.wanted = value;
      this.fade.request();
    }
  }

  advance(): void {
    if (this.fade.beginTick()) {
      this.from = this.to;
      this.to = this.wanted;
    }
    if (this.fade.running) {
      const at = this.fade.frame;
      for (let n = 0; n < TICK; n++) this.values[n] = this.from + FADE_CURVE[at + n]! * (this.to - this.from);
      this.fade.endTick();
      this.moving = true;
    } else if (this.moving) {
      this.values.fill(this.to);
      this.moving = false;
    }
  }

  /** Ends every movement at its target. */
  settle(): void {
    this.from = this.wanted;
    this.to = this.wanted;
    this.values.fill(this.wanted);
    this.moving = false;
    this.fade.settle();
  }
}
