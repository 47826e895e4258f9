import { cosCycles } from '../units/exact-math.js';

/**
 * Periodic Hann window, w[n] = 0.5 - 0.5 cos(2 pi n / N), n = 0..N - 1. F. J. Harris, "On the Use of Windows for Harmonic
 * Analysis with the Discrete Fourier Transform", Proc. IEEE 66(1), 1978.
 */
export function hannWindow(length: number): Float64Array {
  const window = new Float64Array(length);
  for (let n = 0; n < length; n++) window[n] = 0.5 - 0.5 * cosCycles(n / length);
  return window;
}
