import { cosCycles, sinCycles, tan } from '../units/exact-math.js';
import type { Hertz } from '../units/units.js';
import { flushArray, type StereoUnit } from './stereo-unit.js';

/**
 * Second-order sections in series on both channels, with setters that allocate nothing. Transposed direct form II, float64.
 * Section formulas: RBJ, "Audio EQ Cookbook", W3C Working Group Note, 8 June 2021 (bilinear transform, pre-warped).
 * A new setting acts in one step: whoever needs a change without a click keeps two of these and cross-fades.
 */
export class StereoBiquads implements StereoUnit {
  readonly latencySamples = 0;
  private readonly coefficients: Float64Array;
  private readonly leftState: Float64Array;
  private readonly rightState: Float64Array;

  constructor(
    private readonly sampleRate_Hz: Hertz,
    readonly sectionCount: number,
  ) {
    this.coefficients = new Float64Array(5 * sectionCount);
    this.leftState = new Float64Array(2 * sectionCount);
    this.rightState = new Float64Array(2 * sectionCount);
    for (let s = 0; s < sectionCount; s++) this.setThrough(s);
  }

  setThrough(section: number): void {
    this.set(section, 1, 0, 0, 0, 0);
  }

  setLowPass(section: number, corner_Hz: Hertz, quality: number): void {
    const c = cosCycles(corner_Hz / this.sampleRate_Hz);
    const alpha = sinCycles(corner_Hz / this.sampleRate_Hz) / (2 * quality);
    const a0 = 1 + alpha;
    this.set(section, (1 - c) / 2 / a0, (1 - c) / a0, (1 - c) / 2 / a0, (-2 * c) / a0, (1 - alpha) / a0);
  }

  setHighPass(section: number, corner_Hz: Hertz, quality: number): void {
    const c = cosCycles(corner_Hz / this.sampleRate_Hz);
    const alpha = sinCycles(corner_Hz / this.sampleRate_Hz) / (2 * quality);
    const a0 = 1 + alpha;
    this.set(section, (1 + c) / 2 / a0, -(1 + c) / a0, (1 + c) / 2 / a0, (-2 * c) / a0, (1 - alpha) / a0);
  }

  /** Phase -180 degrees at the corner, level untouched. */
  setAllPass(section: number, corner_Hz: Hertz, quality: number): void {
    const c = cosCycles(corner_Hz / this.sampleRate_Hz);
    const alpha = sinCycles(corner_Hz / this.sampleRate_Hz) / (2 * quality);
    const a0 = 1 + alpha;
    this.set(section, (1 - alpha) / a0, (-2 * c) / a0, 1, (-2 * c) / a0, (1 - alpha) / a0);
  }

  /** First-order all-pass with its sign turned: phase 180 degrees at 0 Hz, 90 at the corner, falling to 0. */
  setFirstOrderTurn(section: number, corner_Hz: Hertz): void {
    const t = tan((Math.PI * corner_Hz) / this.sampleRate_Hz);
    const c = (t - 1) / (t + 1);
    this.set(section, -c, -1, 0, c, 0);
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    for (let s = 0; s < this.sectionCount; s++) {
      this.runSection(s, left, this.leftState, frameCount);
      this.runSection(s, right, this.rightState, frameCount);
    }
  }

  reset(): void {
    this.leftState.fill(0);
    this.rightState.fill(0);
  }

  copySettingOf(other: StereoBiquads): void {
    this.coefficients.set(other.coefficients);
  }

  /** Takes over what another chain of as many sections has heard. */
  copyStateOf(other: StereoBiquads): void {
    this.leftState.set(other.leftState);
    this.rightState.set(other.rightState);
  }

  flush(): void {
    flushArray(this.leftState);
    flushArray(this.rightState);
  }

  private set(section: number, b0: number, b1: number, b2: number, a1: number, a2: number): void {
    const at = 5 * section;
    this.coefficients[at] = b0;
    this.coefficients[at + 1] = b1;
    this.coefficients[at + 2] = b2;
    this.coefficients[at + 3] = a1;
    this.coefficients[at + 4] = a2;
  }

  private runSection(section: number, samples: Float64Array, state: Float64Array, frameCount: number): void {
    const at = 5 * section;
    const b0 = this.coefficients[at]!;
    const b1 = this.coefficients[at + 1]!;
    const b2 = this.coefficients[at + 2]!;
    const a1 = this.coefficients[at + 3]!;
    const a2 = this.coefficients[at + 4]!;
    let z1 = state[2 * section]!;
    let z2 = state[2 * section + 1]!;
    for (let n = 0; n < frameCount; n++) {
      const x = samples[n]!;
      const y = b0 * x + z1;
      z1 = b1 * x - a1 * y + z2;
      z2 = b2 * x - a2 * y;
      samples[n] = y;
    }
    state[2 * section] = z1;
    state[2 * section + 1] = z2;
  }
}
