import type { StateTape } from './state-tape.js';
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
      if (!this.rests(s)) this.runSection(s, left, right, frameCount);
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

  passState(tape: StateTape): void {
    tape.array(this.leftState);
    tape.array(this.rightState);
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

  /** Both channels in one loop, since each sample of one waits for the last of its own channel only. */
  private runSection(section: number, left: Float64Array, right: Float64Array, frameCount: number): void {
    const { coefficients, leftState, rightState } = this;
    const at = 5 * section;
    const b0 = coefficients[at]!;
    const b1 = coefficients[at + 1]!;
    const b2 = coefficients[at + 2]!;
    const a1 = coefficients[at + 3]!;
    const a2 = coefficients[at + 4]!;
    const first = 2 * section;
    const second = first + 1;
    let left1 = leftState[first]!;
    let left2 = leftState[second]!;
    let right1 = rightState[first]!;
    let right2 = rightState[second]!;
    for (let n = 0; n < frameCount; n++) {
      const leftIn = left[n]!;
      const rightIn = right[n]!;
      const leftOut = b0 * leftIn + left1;
      const rightOut = b0 * rightIn + right1;
      left1 = b1 * leftIn - a1 * leftOut + left2;
      right1 = b1 * rightIn - a1 * rightOut + right2;
      left2 = b2 * leftIn - a2 * leftOut;
      right2 = b2 * rightIn - a2 * rightOut;
      left[n] = leftOut;
      right[n] = rightOut;
    }
    leftState[first] = left1;
    leftState[second] = left2;
    rightState[first] = right1;
    rightState[second] = right2;
  }

  /** Whether a section neither does anything to the sound nor has anything left to give out. */
  private rests(section: number): boolean {
    const { coefficients, leftState, rightState } = this;
    const at = 5 * section;
    if (coefficients[at] !== 1) return false;
    for (let i = 1; i < 5; i++) if (coefficients[at + i] !== 0) return false;
    const first = 2 * section;
    return (
      leftState[first] === 0 && leftState[first + 1] === 0 && rightState[first] === 0 && rightState[first + 1] === 0
    );
  }
}
