import { ComplexFft } from '../dsp/fft.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { cos, log2 } from '../units/exact-math.js';

/** Each transform covers at least this long; a quarter of it is context, an eighth on either side. */
const BLOCK_s = 1.3;
/** The lows are worked on at the lowest halved rate that is not under this many times the corner. */
const RATE_OVER_CORNER = 40;

/**
 * A sound without its lows, stretch by stretch, at zero phase: x - low-pass(x), the low-pass of gain cos^2(pi/2 u), u = clip(log2(f / corner)
 * + 0.5, 0, 1): all of it half an octave under the corner, nothing half an octave over it. By overlapping transforms with
 * 0.16 s of context on either side; the response has died away by then (under -70 dB).
 *
 * The low-pass works at a rate halved again and again by the kernel (1, 4, 6, 4, 1) / 16, of gain cos^4(pi f / rate): it takes
 * what would fold onto the lows down by over 90 dB, the doubling by the same kernel takes the images down as far, and what
 * both take from the lows themselves is given back in the transform.
 */
export class WithoutLows {
  private readonly left: Float64Array;
  private readonly right: Float64Array;
  private readonly halvings: number;

  constructor(
    private readonly mix: StereoSignal,
    corner_Hz: number,
  ) {
    const rates_Hz = [mix.sampleRate_Hz];
    while (rates_Hz[0]! / 2 >= RATE_OVER_CORNER * corner_Hz) rates_Hz.unshift(rates_Hz[0]! / 2);
    this.halvings = rates_Hz.length - 1;
    this.left = lowered(mix.left, this.halvings);
    this.right = isMono(mix) ? this.left : lowered(mix.right, this.halvings);
    const gainAt = (frequency_Hz: number): number => lowGain(frequency_Hz, corner_Hz) / lossOf(frequency_Hz, rates_Hz);
    throughGain(this.left, this.right, rates_Hz[0]!, gainAt);
  }

  /** Samples `from` to `to` of one channel; both lie within the sound. */
  stretch(channel: 'left' | 'right', from: number, to: number): Float64Array {
    const margin = MARGIN * (1 << this.halvings);
    const high = raised(this[channel], this.halvings, from + margin, to + margin);
    const samples = new Float64Array(this.mix[channel].subarray(from, to));
    for (let n = 0; n < high.length; n++) high[n] = samples[n]! - high[n]!;
    return high;
  }
}

function lowGain(frequency_Hz: number, corner_Hz: number): number {
  if (frequency_Hz === 0) return 1;
  const c = cos((Math.PI / 2) * Math.max(0, Math.min(1, log2(frequency_Hz / corner_Hz) + 0.5)));
  return c * c;
}

/** Gain of all halvings and doublings at a frequency. */
function lossOf(frequency_Hz: number, [, ...rates_Hz]: readonly number[]): number {
  return rates_Hz.reduce((gain, rate_Hz) => {
    const c2 = cos((Math.PI * frequency_Hz) / rate_Hz) * cos((Math.PI * frequency_Hz) / rate_Hz);
    return gain * c2 * c2 * c2 * c2;
  }, 1);
}

/** Samples of the lowest rate that are kept before and after the sound, for what the doublings reach. */
const MARGIN = 4;

/** At the lowest rate, MARGIN samples of silence ahead and more behind. */
function lowered(samples: Channel, halvings: number): Float64Array {
  const margin = MARGIN * (1 << halvings);
  if (halvings === 0) {
    const whole = new Float64Array(samples.length + 2 * margin);
    whole.set(samples, margin);
    return whole;
  }
  let low = halved(samples, margin);
  for (let i = 1; i < halvings; i++) low = halved(low, 0);
  return low;
}

/** So many samples are halved at once that they stay in the processor's own memory. */
const HALVED_FRAMES = 2048;

/** (1, 4, 6, 4, 1) / 16, read at every second sample from `margin` before the first to `margin` behind the last. */
function halved(samples: Channel, margin: number): Float64Array {
  const low = new Float64Array(Math.ceil(samples.length / 2) + margin);
  const heard = new Float64Array(2 * HALVED_FRAMES + 3);
  for (let at = 0; at < low.length; at += HALVED_FRAMES) {
    const first = 2 * at - margin - 2;
    const from = Math.max(0, first);
    const to = Math.max(from, Math.min(samples.length, first + heard.length));
    heard.fill(0);
    heard.set(samples.subarray(from, to), from - first);
    halve(heard, low.subarray(at, at + HALVED_FRAMES));
  }
  return low;
}

/** Value n stands on the sample 2 n + 2 of `heard`. */
function halve(heard: Float64Array, low: Float64Array): void {
  for (let n = 0; n < low.length; n++) {
    const m = 2 * n + 2;
    low[n] = 0.0625 * (heard[m - 2]! + heard[m + 2]!) + 0.25 * (heard[m - 1]! + heard[m + 1]!) + 0.375 * heard[m]!;
  }
}

/**
 * Samples `from` to `to` after so many doublings, each with zeros between, through (1, 4, 6, 4, 1) / 8; silence beyond both
 * ends. Only what reaches the stretch is worked out.
 */
function raised(low: Float64Array, doublings: number, from: number, to: number): Float64Array {
  if (doublings === 0) {
    const samples = new Float64Array(to - from);
    const first = Math.max(0, from);
    if (first < to) samples.set(low.subarray(first, to), first - from);
    return samples;
  }
  const start = Math.floor(from / 2) - 1;
  const half = raised(low, doublings - 1, start, Math.floor((to - 1) / 2) + 2);
  const pairs = doubled(half);
  const samples = pairs.subarray(from - 2 * (start + 1), to - 2 * (start + 1));
  samples.fill(0, 0, Math.max(0, -from));
  samples.fill(0, Math.max(0, low.length * (1 << doublings) - from));
  return samples;
}

/** Two samples for every one of `half` that has neighbours on both sides. */
function doubled(half: Float64Array): Float64Array {
  const pairs = new Float64Array(2 * (half.length - 2));
  for (let n = 1; n < half.length - 1; n++) {
    pairs[2 * n - 2] = 0.125 * (half[n - 1]! + half[n + 1]!) + 0.75 * half[n]!;
    pairs[2 * n - 1] = 0.5 * (half[n]! + half[n + 1]!);
  }
  return pairs;
}

/** Two channels through a gain over frequency, in place; pass the very same array twice for a mono sound. */
function throughGain(
  left: Float64Array,
  right: Float64Array,
  sampleRate_Hz: number,
  gainAt: (frequency_Hz: number) => number,
): void {
  let size = 2;
  while (size < BLOCK_s * sampleRate_Hz) size *= 2;
  const fft = new ComplexFft(size);
  const gains = Float64Array.from({ length: size }, (_, k) => gainAt((Math.min(k, size - k) * sampleRate_Hz) / size));
  const context = size / 8;
  const hop = size - 2 * context;
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  const before = { left: new Float64Array(context), right: new Float64Array(context) };
  for (let start = 0; start < left.length; start += hop) {
    loadBlock(left, before.left, start, hop, re);
    loadBlock(right, before.right, start, hop, im);
    before.left.set(re.subarray(hop, hop + context));
    before.right.set(im.subarray(hop, hop + context));
    fft.forward(re, im);
    for (let k = 0; k < size; k++) {
      re[k]! *= gains[k]!;
      im[k]! *= gains[k]!;
    }
    fft.inverse(re, im);
    const count = Math.min(hop, left.length - start);
    left.set(re.subarray(context, context + count), start);
    if (right !== left) right.set(im.subarray(context, context + count), start);
  }
}

/** Context kept from before the last block was overwritten, then the samples still untouched. */
function loadBlock(samples: Float64Array, before: Float64Array, start: number, hop: number, block: Float64Array): void {
  const context = before.length;
  block.set(before);
  const ahead = samples.subarray(start, Math.min(samples.length, start + hop + context));
  block.set(ahead, context);
  block.fill(0, context + ahead.length);
}
