import { exp } from '../../core/units/exact-math.js';

/** First-order low-pass, sample by sample: y += (1 - e^(-2 pi fc / fs)) (x - y). State under 1e-30 is set to 0. */
export class OnePole {
  private readonly share: number;
  private state = 0;

  constructor(corner_Hz: number, sampleRate_Hz: number) {
    this.share = 1 - exp((-2 * Math.PI * corner_Hz) / sampleRate_Hz);
  }

  low(x: number): number {
    const next = this.state + this.share * (x - this.state);
    this.state = Math.abs(next) < 1e-30 ? 0 : next;
    return this.state;
  }

  /** The next `count` samples (all unless told) through the low-pass, in place. */
  lowAll(samples: Float64Array, count: number = samples.length): void {
    const { share } = this;
    let state = this.state;
    for (let i = 0; i < count; i++) {
      const next = state + share * (samples[i]! - state);
      state = Math.abs(next) < 1e-30 ? 0 : next;
      samples[i] = state;
    }
    this.state = state;
  }

  high(x: number): number {
    return x - this.low(x);
  }
}
