import type { StateTape } from './state-tape.js';
import { cos, sin } from '../units/exact-math.js';
import { kaiser } from './kaiser-window.js';
import { copyFlushed } from './block-arithmetic.js';
import { flushed } from './stereo-unit.js';

/**
 * Half-band low-pass of 4k + 3 taps, linear phase: every second tap is 0 but the centre, which is 1/2; gain 1/2 at a quarter
 * of the rate. A windowed sinc, Kaiser beta 12 (about -118 dB), odd taps scaled so that the gain at 0 Hz is exactly 1.
 * Source: P. P. Vaidyanathan, T. Q. Nguyen, "A 'Trick' for the Design of FIR Half-Band Filters", IEEE Trans. CAS 34(3), 1987,
 * for the properties (from memory).
 *
 * @returns the k + 1 taps on one side at odd distance from the centre, the outermost first.
 */
export function halfBandSide(k: number): Float64Array {
  const side = new Float64Array(k + 1);
  let sum = 0;
  for (let i = 0; i <= k; i++) {
    const distance = 2 * (k - i) + 1;
    const angle = 0.5 * Math.PI * distance;
    side[i] = (sin(angle) / (Math.PI * distance)) * kaiser(distance / (2 * k + 2), 12);
    sum += side[i]!;
  }
  for (let i = 0; i <= k; i++) side[i] = (0.25 * side[i]!) / sum;
  return side;
}

/** Gain of a half-band filter at a frequency given as a share of its (higher) rate. */
export function halfBandGain(side: Float64Array, share: number): number {
  let gain = 0.5;
  for (let i = 0; i < side.length; i++) {
    gain += 2 * side[i]! * cos(2 * Math.PI * share * (2 * (side.length - 1 - i) + 1));
  }
  return gain;
}

/** Doubles the rate of one channel. Delay: 2k + 1 samples of the higher rate. */
export class HalfBandUp {
  /** Twice the taps, since half of the samples that they meet are zeros. */
  private readonly side: Float64Array;
  private readonly held: number;
  private readonly heard: Float64Array;

  constructor(side: Float64Array, maxFrames: number) {
    this.side = side.map((tap) => 2 * tap);
    this.held = 2 * side.length - 1;
    this.heard = new Float64Array(this.held + maxFrames);
  }

  process(input: Float64Array, frameCount: number, output: Float64Array): void {
    const { heard, held, side } = this;
    copyFlushed(input, heard, held, frameCount);
    const centre = side.length;
    for (let n = 0; n < frameCount; n++) {
      output[2 * n] = 0;
      output[2 * n + 1] = heard[centre + n]!;
    }
    addBothSides(side, heard, output, 2, frameCount);
    heard.copyWithin(0, frameCount, frameCount + held);
  }

  reset(): void {
    this.heard.fill(0);
  }

  passState(tape: StateTape): void {
    tape.array(this.heard);
  }
}

/** Halves the rate of one channel. Delay: 2k + 1 samples of the higher rate. */
export class HalfBandDown {
  private readonly held: number;
  /** The samples that meet the taps, and those between them, of which one meets the centre. */
  private readonly heard: Float64Array;
  private readonly between: Float64Array;

  constructor(
    private readonly side: Float64Array,
    maxFrames: number,
  ) {
    this.held = 2 * side.length - 1;
    this.heard = new Float64Array(this.held + maxFrames);
    this.between = new Float64Array(side.length + maxFrames);
  }

  /** `frameCount` output frames from twice as many of `input`. */
  process(input: Float64Array, frameCount: number, output: Float64Array): void {
    const { heard, between, held, side } = this;
    const late = side.length;
    for (let n = 0; n < frameCount; n++) {
      heard[held + n] = flushed(input[2 * n]!);
      between[late + n] = flushed(input[2 * n + 1]!);
    }
    for (let n = 0; n < frameCount; n++) output[n] = 0.5 * between[n]!;
    addBothSides(side, heard, output, 1, frameCount);
    heard.copyWithin(0, frameCount, frameCount + held);
    between.copyWithin(0, frameCount, frameCount + late);
  }

  reset(): void {
    this.heard.fill(0);
    this.between.fill(0);
  }

  passState(tape: StateTape): void {
    tape.array(this.heard);
    tape.array(this.between);
  }
}

/**
 * Adds to every `stride`-th sum both sides of the filter, from the outermost taps inwards: sum[n] += side[i] (newest + oldest).
 * Four sums at once, since each waits for its own last addition, and four taps, so that a sample is read once for all four
 * sums that it meets. Each sum has the bits of one made alone.
 */
function addBothSides(
  side: Float64Array,
  heard: Float64Array,
  sums: Float64Array,
  stride: 1 | 2,
  frameCount: number,
): void {
  const taps = side.length;
  const held = 2 * taps - 1;
  let n = 0;
  for (; n + 3 < frameCount; n += 4) {
    const newest = held + n;
    const at = stride * n;
    let sum0 = sums[at]!;
    let sum1 = sums[at + stride]!;
    let sum2 = sums[at + 2 * stride]!;
    let sum3 = sums[at + 3 * stride]!;
    let new0 = heard[newest]!;
    let new1 = heard[newest + 1]!;
    let new2 = heard[newest + 2]!;
    let new3 = heard[newest + 3]!;
    let old0 = heard[n]!;
    let old1 = heard[n + 1]!;
    let old2 = heard[n + 2]!;
    let old3 = heard[n + 3]!;
    let i = 0;
    for (; i + 3 < taps; i += 4) {
      const tap0 = side[i]!;
      sum0 += tap0 * (new0 + old0);
      sum1 += tap0 * (new1 + old1);
      sum2 += tap0 * (new2 + old2);
      sum3 += tap0 * (new3 + old3);
      const tap1 = side[i + 1]!;
      new3 = heard[newest - i - 1]!;
      old0 = heard[n + i + 4]!;
      sum0 += tap1 * (new3 + old1);
      sum1 += tap1 * (new0 + old2);
      sum2 += tap1 * (new1 + old3);
      sum3 += tap1 * (new2 + old0);
      const tap2 = side[i + 2]!;
      new2 = heard[newest - i - 2]!;
      old1 = heard[n + i + 5]!;
      sum0 += tap2 * (new2 + old2);
      sum1 += tap2 * (new3 + old3);
      sum2 += tap2 * (new0 + old0);
      sum3 += tap2 * (new1 + old1);
      const tap3 = side[i + 3]!;
      new1 = heard[newest - i - 3]!;
      old2 = heard[n + i + 6]!;
      sum0 += tap3 * (new1 + old3);
      sum1 += tap3 * (new2 + old0);
      sum2 += tap3 * (new3 + old1);
      sum3 += tap3 * (new0 + old2);
      new0 = heard[newest - i - 4]!;
      old3 = heard[n + i + 7]!;
    }
    for (; i < taps; i++) {
      const tap = side[i]!;
      sum0 += tap * (new0 + old0);
      sum1 += tap * (new1 + old1);
      sum2 += tap * (new2 + old2);
      sum3 += tap * (new3 + old3);
      new3 = new2;
      new2 = new1;
      new1 = new0;
      new0 = heard[newest - i - 1]!;
      old0 = old1;
      old1 = old2;
      old2 = old3;
      old3 = heard[n + i + 4]!;
    }
    sums[at] = sum0;
    sums[at + stride] = sum1;
    sums[at + 2 * stride] = sum2;
    sums[at + 3 * stride] = sum3;
  }
  for (; n < frameCount; n++) {
    let sum = sums[stride * n]!;
    for (let i = 0; i < taps; i++) sum += side[i]! * (heard[held + n - i]! + heard[n + i]!);
    sums[stride * n] = sum;
  }
}
