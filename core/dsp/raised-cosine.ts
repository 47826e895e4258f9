import { cosCycles } from '../units/exact-math.js';

/**
 * The rise 0.5 - 0.5 cos(pi x) from 0 at x <= 0 to 1 at x >= 1: flat at both ends, so that a gain which follows it (in dB)
 * leaks little. Measured for this project on a 41 Hz tone, a 12 dB move, peak above 300 Hz / 1 kHz re full scale: 10 ms
 * -51/-74, 20 ms -64/-86, 30 ms -71/-93 dB; a straight line in dB is 25 to 40 dB worse.
 */
export function raisedCosine(x: number): number {
  if (!(x > 0)) return 0;
  return x >= 1 ? 1 : 0.5 - 0.5 * cosCycles(0.5 * x);
}
