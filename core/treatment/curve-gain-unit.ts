import type { StateTape } from '../dsp/state-tape.js';
import { GainCurve } from '../dsp/gain-curve.js';
import { TICK } from '../dsp/stereo-unit.js';
import type { StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

/**
 * What the stages that follow a list have in common: one gain for both channels, a function of the song sample. No latency:
 * the list is known beforehand. Where the gain is exactly 1 the sound is left to the bit.
 */
export abstract class CurveGainUnit implements StageUnit {
  readonly latencySamples = 0;
  protected readonly curve: GainCurve;
  private readonly gains = new Float64Array(TICK);
  private position = 0;

  constructor(maxMoves: number) {
    this.curve = new GainCurve(maxMoves);
  }

  abstract configure(instance: StageInstance, atOnce: boolean): void;

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (!this.curve.idle) {
      const { gains } = this;
      this.curve.fill(this.position, gains, frameCount);
      for (let i = 0; i < frameCount; i++) {
        const gain = gains[i]!;
        if (gain === 1) continue;
        left[i] = left[i]! * gain;
        right[i] = right[i]! * gain;
      }
    }
    this.position += frameCount;
  }

  seek(songSample: number): void {
    this.reset();
    this.position = songSample;
  }

  reset(): void {
    this.curve.reset();
    this.position = 0;
  }

  passState(tape: StateTape): void {
    this.position = tape.value(this.position);
  }

  flush(): void {
    return;
  }
}
