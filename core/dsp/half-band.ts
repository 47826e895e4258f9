import { cos, sin } from '../units/exact-math.js';
import { kaiser } from './kaiser-window.js';
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
  private readonly buffer: Float64Array;
  private readonly held: number;

  constructor(
    private readonly side: Float64Array,
    maxFrames: number,
  ) {
    this.held = 2 * side.length - 1;
    this.buffer = new Float64Array(this.held + maxFrames);
  }

  process(input: Float64Array, frameCount: number, output: Float64Array): void {
    const { buffer, held, side } = this;
    for (let n = 0; n < frameCount; n++) buffer[held + n] = flushed(input[n]!);
    const taps = side.length;
    // Two frames at once: two sums that do not wait for each other, each in the same order as one alone.
    let begun = 0;
    for (; begun + 1 < frameCount; begun += 2) {
      const newest = held + begun;
      let sum = 0;
      let second = 0;
      for (let i = 0; i < taps; i++) {
        sum += side[i]! * (buffer[newest - i]! + buffer[begun + i]!);
        second += side[i]! * (buffer[newest + 1 - i]! + buffer[begun + 1 + i]!);
      }
      output[2 * begun] = 2 * sum;
      output[2 * begun + 1] = buffer[newest - taps + 1]!;
      output[2 * begun + 2] = 2 * second;
      output[2 * begun + 3] = buffer[newest - taps + 2]!;
    }
    for (let n = begun; n < frameCount; n++) {
      const newest = held + n;
      let sum = 0;
      for (let i = 0; i < taps; i++) sum += side[i]! * (buffer[newest - i]! + buffer[n + i]!);
      output[2 * n] = 2 * sum;
      output[2 * n + 1] = buffer[newest - taps + 1]!;
    }
    buffer.copyWithin(0, frameCount, frameCount + held);
  }

  reset(): void {
    this.buffer.fill(0);
  }
}

/** Halves the rate of one channel. Delay: 2k + 1 samples of the higher rate. */
export class HalfBandDown {
  private readonly buffer: Float64Array;
  private readonly held: number;

  constructor(
    private readonly side: Float64Array,
    maxFrames: number,
  ) {
    this.held = 2 * (2 * side.length - 1);
    this.buffer = new Float64Array(this.held + 2 * maxFrames);
  }

  /** `frameCount` output frames from twice as many of `input`. */
  process(input: Float64Array, frameCount: number, output: Float64Array): void {
    const { buffer, held, side } = this;
    for (let n = 0; n < 2 * frameCount; n++) buffer[held + n] = flushed(input[n]!);
    const taps = side.length;
    // Two frames at once, as above.
    let begun = 0;
    for (; begun + 1 < frameCount; begun += 2) {
      const oldest = 2 * begun;
      const newest = held + oldest;
      let sum = 0.5 * buffer[newest - (2 * taps - 1)]!;
      let second = 0.5 * buffer[newest + 2 - (2 * taps - 1)]!;
      for (let i = 0; i < taps; i++) {
        sum += side[i]! * (buffer[newest - 2 * i]! + buffer[oldest + 2 * i]!);
        second += side[i]! * (buffer[newest + 2 - 2 * i]! + buffer[oldest + 2 + 2 * i]!);
      }
      output[begun] = sum;
      output[begun + 1] = second;
    }
    for (let n = begun; n < frameCount; n++) {
      const oldest = 2 * n;
      const newest = held + oldest;
      let sum = 0.5 * buffer[newest - (2 * taps - 1)]!;
      for (let i = 0; i < taps; i++) sum += side[i]! * (buffer[newest - 2 * i]! + buffer[oldest + 2 * i]!);
      output[n] = sum;
    }
    buffer.copyWithin(0, 2 * frameCount, 2 * frameCount + held);
  }

  reset(): void {
    this.buffer.fill(0);
  }
}
