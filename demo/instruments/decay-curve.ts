import { exp } from '../../core/units/exact-math.js';

/** e^(-t / tau), sample by sample from t = 0. */
export function decayCurve(tau_s: number, frameCount: number, sampleRate_Hz: number): Float64Array {
  const curve = new Float64Array(frameCount);
  for (let n = 0; n < frameCount; n++) curve[n] = exp(-(n / sampleRate_Hz) / tau_s);
  return curve;
}
