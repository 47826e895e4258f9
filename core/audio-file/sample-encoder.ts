import type { Channel } from '../signal/stereo-signal.js';
import { viewOf } from './byte-text.js';
import { TriangularDither } from './dither.js';

/** How a print stores its samples. */
export type PrintDepth = '16' | '24' | '32f';

export function bytesPerSample(depth: PrintDepth): number {
  return depth === '16' ? 2 : depth === '24' ? 3 : 4;
}

/**
 * Samples into the little-endian bytes of a print. Integers are n = round(2^(b-1) x + dither), halves upwards, so that an integer
 * source at unity gain comes back to the bit where no dither is asked. Nothing is clipped: what would pass full scale is
 * counted, and the writer refuses it.
 */
export class SampleEncoder {
  /** Largest magnitude met, full scale 1. */
  peak = 0;
  /** Samples that the integer format cannot hold. */
  overCount = 0;
  /** Samples that are NaN or infinite. */
  notFiniteCount = 0;
  private readonly dithers: readonly TriangularDither[] | null;
  private readonly scale: number;
  private readonly size: number;

  constructor(
    private readonly depth: PrintDepth,
    channelCount: number,
    ditherSeed: number | null,
  ) {
    this.size = bytesPerSample(depth);
    this.scale = depth === '16' ? 32768 : 8388608;
    this.dithers =
      ditherSeed === null || depth === '32f'
        ? null
        : Array.from({ length: channelCount }, (_, channel) => new TriangularDither(ditherSeed, channel));
  }

  /** Frames from .. to of all channels, interleaved. */
  encode(channels: readonly Channel[], from: number, to: number): Uint8Array {
    const bytes = new Uint8Array((to - from) * channels.length * this.size);
    channels.forEach((channel, index) => {
      const stride = channels.length * this.size;
      if (this.depth === '32f') this.encodeFloats(channel, from, to, bytes, index * this.size, stride);
      else this.encodeIntegers(channel, from, to, bytes, index, stride);
    });
    return bytes;
  }

  private encodeFloats(
    channel: Channel,
    from: number,
    to: number,
    bytes: Uint8Array,
    first: number,
    stride: number,
  ): void {
    const view = viewOf(bytes);
    for (let frame = from, offset = first; frame < to; frame++, offset += stride) {
      const value = channel[frame]!;
      this.watch(value);
      view.setFloat32(offset, value, true);
    }
  }

  private encodeIntegers(
    channel: Channel,
    from: number,
    to: number,
    bytes: Uint8Array,
    index: number,
    stride: number,
  ): void {
    const { scale, size } = this;
    const dither = this.dithers?.[index];
    for (let frame = from, offset = index * size; frame < to; frame++, offset += stride) {
      const value = channel[frame]!;
      this.watch(value);
      const whole = Math.floor(value * scale + (dither === undefined ? 0 : dither.next_LSB()) + 0.5);
      if (whole >= scale || whole < -scale) this.overCount++;
      for (let i = 0; i < size; i++) bytes[offset + i] = whole >> (8 * i);
    }
  }

  private watch(value: number): void {
    if (value - value !== 0) {
      this.notFiniteCount++;
      return;
    }
    const magnitude = value < 0 ? -value : value;
    if (magnitude > this.peak) this.peak = magnitude;
  }
}
