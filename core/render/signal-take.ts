import type { StereoSignal } from '../signal/stereo-signal.js';

type Samples = Float32Array | Float64Array;

/** How rendered sound is kept: with the bits of the chain, or at half the memory where it is only measured. */
export type TakePrecision = 'float64' | 'float32';

/** Takes rendered blocks into a signal of its own. */
export class SignalTake {
  private readonly left: Samples;
  private right: Samples;

  /** @param mono true where both channels are kept as one for as long as they are equal. */
  constructor(
    private readonly frameCount: number,
    private readonly sampleRate_Hz: number,
    private readonly precision: TakePrecision,
    mono: boolean,
  ) {
    this.left = this.blank();
    this.right = mono ? this.left : this.blank();
  }

  /** Puts a block where its first frame stands at `at`; what lies outside the signal is dropped. */
  put(left: Float64Array, right: Float64Array, at: number): void {
    if (this.right === this.left && differ(left, right)) this.right = this.left.slice();
    copyOut(left, this.left, at);
    if (this.right !== this.left) copyOut(right, this.right, at);
  }

  get signal(): StereoSignal {
    return { left: this.left, right: this.right, sampleRate_Hz: this.sampleRate_Hz };
  }

  private blank(): Samples {
    return this.precision === 'float32' ? new Float32Array(this.frameCount) : new Float64Array(this.frameCount);
  }
}

function differ(left: Float64Array, right: Float64Array): boolean {
  for (let n = 0; n < left.length; n++) if (left[n] !== right[n]) return true;
  return false;
}

function copyOut(block: Float64Array, to: Samples, at: number): void {
  const end = Math.min(block.length, to.length - at);
  for (let n = Math.max(0, -at); n < end; n++) to[at + n] = block[n]!;
}
