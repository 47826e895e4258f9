import { sin } from '../units/exact-math.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { kaiser } from './kaiser-window.js';

/**
 * The same sound at a lower rate, for measuring lows: decimation by a whole factor, linear phase, its delay taken out, so that
 * sample n of the result stands at time n / rate. Pass band to 0.4 of the new rate (ripple < 0.001 dB), stop band from 0.5 of
 * it (Kaiser beta 10, about -100 dB).
 *
 * @param atLeast_Hz the new rate is sampleRate / factor, the lowest that is not under this.
 */
export function reducedRate(signal: StereoSignal, atLeast_Hz: number): StereoSignal {
  const factor = Math.max(1, Math.floor(signal.sampleRate_Hz / atLeast_Hz));
  if (factor === 1) return signal;
  const left = decimated(signal.left, factor);
  const right = isMono(signal) ? left : decimated(signal.right, factor);
  return { left, right, sampleRate_Hz: signal.sampleRate_Hz / factor };
}

/** Decimates one channel by a whole factor, see `reducedRate`. */
export function decimated(samples: Channel, factor: number): Float64Array {
  const taps = decimationTaps(factor);
  const half = (taps.length - 1) / 2;
  const output = new Float64Array(Math.ceil(samples.length / factor));
  for (let n = 0; n < output.length; n++) {
    const centre = n * factor;
    const from = Math.max(-half, -centre);
    const to = Math.min(half, samples.length - 1 - centre);
    let sum = 0;
    for (let k = from; k <= to; k++) sum += taps[half + k]! * samples[centre + k]!;
    output[n] = sum;
  }
  return output;
}

function decimationTaps(factor: number): Float64Array {
  const half = 32 * factor;
  const beta = 10;
  const corner = 0.45 / factor; // cycles per sample, half way between pass and stop
  const taps = new Float64Array(2 * half + 1);
  let sum = 0;
  for (let k = -half; k <= half; k++) {
    const x = 2 * Math.PI * corner * k;
    const sinc = k === 0 ? 1 : sin(x) / x;
    const value = sinc * kaiser(k / half, beta);
    taps[half + k] = value;
    sum += value;
  }
  for (let i = 0; i < taps.length; i++) taps[i]! /= sum;
  return taps;
}
