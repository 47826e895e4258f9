import { ComplexFft } from '../dsp/fft.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { cos, log2 } from '../units/exact-math.js';

/** Each transform covers at least this long; a quarter of it is context, an eighth on either side. */
const BLOCK_s = 1.3;
/** The lows are worked on at the lowest halved rate that is not under this many times the corner. */
const RATE_OVER_CORNER = 40;

/**
 * A sound without its lows, at zero phase: x - low-pass(x), the low-pass of gain cos^2(pi/2 u), u = clip(log2(f / corner)
 * + 0.5, 0, 1): all of it half an octave under the corner, nothing half an octave over it. By overlapping transforms with
 * 0.16 s of context on either side; the response has died away by then (under -70 dB).
 *
 * The low-pass works at a rate halved again and again by the kernel (1, 4, 6, 4, 1) / 16, of gain cos^4(pi f / rate): it takes
 * what would fold onto the lows down by over 90 dB, the doubling by the same kernel takes the images down as far, and what
 * both take from the lows themselves is given back in the transform.
 */
export function withoutLows(mix: StereoSignal, corner_Hz: number): StereoSignal {
  const rates_Hz = [mix.sampleRate_Hz];
  while (rates_Hz[0]! / 2 >= RATE_OVER_CORNER * corner_Hz) rates_Hz.unshift(rates_Hz[0]! / 2);
  const halvings = rates_Hz.length - 1;
  const mono = isMono(mix);
  const left = lowered(mix.left, halvings);
  const right = mono ? left : lowered(mix.right, halvings);
  throughGain(
    left,
    right,
    rates_Hz[0]!,
    (frequency_Hz) => lowGain(frequency_Hz, corner_Hz) / lossOf(frequency_Hz, rates_Hz),
  );
  const high = lessLows(mix.left, left, halvings);
  return { left: high, right: mono ? high : lessLows(mix.right, right, halvings), sampleRate_Hz: mix.sampleRate_Hz };
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
  let margin = MARGIN;
  for (let i = 0; i < halvings; i++) margin *= 2;
  if (halvings === 0) {
    const whole = new Float64Array(samples.length + 2 * margin);
    whole.set(samples, margin);
    return whole;
  }
  let low = halved(samples, margin);
  for (let i = 1; i < halvings; i++) low = halved(low, 0);
  return low;
}

/** (1, 4, 6, 4, 1) / 16, read at every second sample from `margin` before the first to `margin` behind the last. */
function halved(samples: Channel, margin: number): Float64Array {
  const low = new Float64Array(Math.ceil(samples.length / 2) + margin);
  const at = (n: number): number => samples[n] ?? 0;
  const first = Math.min(low.length, margin / 2 + 1);
  const last = Math.max(first, Math.floor((samples.length - 3 + margin) / 2));
  const edge = (n: number): void => {
    const m = 2 * n - margin;
    low[n] = 0.0625 * (at(m - 2) + at(m + 2)) + 0.25 * (at(m - 1) + at(m + 1)) + 0.375 * at(m);
  };
  for (let n = 0; n < first; n++) edge(n);
  for (let n = first; n < last; n++) {
    const m = 2 * n - margin;
    low[n] =
      0.0625 * (samples[m - 2]! + samples[m + 2]!) + 0.25 * (samples[m - 1]! + samples[m + 1]!) + 0.375 * samples[m]!;
  }
  for (let n = last; n < low.length; n++) edge(n);
  return low;
}

/** Twice as many samples: zeros between, through (1, 4, 6, 4, 1) / 8. */
function doubled(low: Float64Array): Float64Array {
  const samples = new Float64Array(2 * low.length);
  let before = 0;
  let here = low[0]!;
  for (let n = 0; n < low.length; n++) {
    const after = n + 1 < low.length ? low[n + 1]! : 0;
    samples[2 * n] = 0.125 * (before + after) + 0.75 * here;
    samples[2 * n + 1] = 0.5 * (here + after);
    before = here;
    here = after;
  }
  return samples;
}

function lessLows(samples: Channel, low: Float64Array, halvings: number): Float64Array {
  let lows = low;
  let margin = MARGIN;
  for (let i = 0; i < halvings; i++) {
    lows = doubled(lows);
    margin *= 2;
  }
  const high = lows.subarray(margin, margin + samples.length);
  for (let n = 0; n < high.length; n++) high[n] = samples[n]! - high[n]!;
  return high;
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
