import { ComplexFft } from '../dsp/fft.js';
import { cos, log2 } from '../units/exact-math.js';

/** Each transform covers at least this long; a quarter of it is context, an eighth on either side. */
const BLOCK_s = 1.3;

/**
 * Takes the lows out of two channels in place, at zero phase: x - low-pass(x), the low-pass of gain cos^2(pi/2 u),
 * u = clip(log2(f / corner) + 0.5, 0, 1): all of it half an octave under the corner, nothing half an octave over it. By
 * overlapping transforms with 0.16 s of context on either side; the response has died away by then (under -70 dB).
 *
 * Pass the very same array twice for a mono sound.
 */
export function takeLowsOut(left: Float64Array, right: Float64Array, sampleRate_Hz: number, corner_Hz: number): void {
  let size = 2;
  while (size < BLOCK_s * sampleRate_Hz) size *= 2;
  const fft = new ComplexFft(size);
  const gains = highGains(size, sampleRate_Hz, corner_Hz);
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

/** 1 - low-pass gain for every bin of a complex transform, the same for both signs of frequency. */
function highGains(size: number, sampleRate_Hz: number, corner_Hz: number): Float64Array {
  const gains = new Float64Array(size);
  for (let k = 1; k < size; k++) {
    const frequency_Hz = (Math.min(k, size - k) * sampleRate_Hz) / size;
    const u = Math.max(0, Math.min(1, log2(frequency_Hz / corner_Hz) + 0.5));
    const c = cos((Math.PI / 2) * u);
    gains[k] = 1 - c * c;
  }
  return gains;
}
