import { flushed, type StereoUnit } from './stereo-unit.js';

/** Delays both channels by a whole number of samples, to the bit (NaN and values under 1e-30 apart, which become 0). */
export class DelayLine implements StereoUnit {
  readonly latencySamples: number;
  private readonly left: Float64Array;
  private readonly right: Float64Array;
  private at = 0;

  /** @throws RangeError unless delay_samples is a whole number, 0 or more. */
  constructor(delay_samples: number) {
    if (!(Number.isInteger(delay_samples) && delay_samples >= 0)) {
      throw new RangeError(`delay_samples must be a whole number, 0 or more, got ${delay_samples}`);
    }
    this.latencySamples = delay_samples;
    this.left = new Float64Array(delay_samples);
    this.right = new Float64Array(delay_samples);
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    const { latencySamples } = this;
    let at = this.at;
    for (let n = 0; n < frameCount; n++) {
      const leftIn = flushed(left[n]!);
      const rightIn = flushed(right[n]!);
      if (latencySamples === 0) {
        left[n] = leftIn;
        right[n] = rightIn;
        continue;
      }
      left[n] = this.left[at]!;
      right[n] = this.right[at]!;
      this.left[at] = leftIn;
      this.right[at] = rightIn;
      at = at + 1 === latencySamples ? 0 : at + 1;
    }
    this.at = at;
  }

  reset(): void {
    this.left.fill(0);
    this.right.fill(0);
    this.at = 0;
  }

  /** Nothing to do: what enters is flushed. */
  flush(): void {
    return;
  }
}
