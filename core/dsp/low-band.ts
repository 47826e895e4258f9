import { sin } from '../units/exact-math.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { kaiser } from './kaiser-window.js';

/**
 * Decimation for measuring lows, several times cheaper than `reducedRate`: only 0..cleanTo_Hz is kept clean (ripple under
 * 0.001 dB, aliases about -100 dB), what lies above may alias into itself. Linear phase, the delay taken out.
 *
 *   taps    sinc of corner f_r / 2, Kaiser beta 10, transition cleanTo .. f_r - cleanTo, f_r = f_s / factor
 *   half    ceil((100 - 8) / (2.285 * 2 pi * (f_r - 2 cleanTo) / f_s) / 2) taps on either side
 *
 * Source: J. F. Kaiser, "Nonrecursive Digital Filter Design Using the I0-sinh Window Function", ISCAS 1974.
 */
export class LowBand {
  readonly factor: number;
  /** Rate of what comes out. */
  readonly rate_Hz: number;
  private readonly taps: Float64Array;
  private readonly half: number;

  /**
   * @param atLeast_Hz the rate wanted: sampleRate / factor is the lowest that is not under this.
   * @throws RangeError if cleanTo_Hz is not under half the rate that comes out (unless nothing is decimated).
   */
  constructor(sampleRate_Hz: number, atLeast_Hz: number, cleanTo_Hz: number) {
    this.factor = Math.max(1, Math.floor(sampleRate_Hz / atLeast_Hz));
    this.rate_Hz = sampleRate_Hz / this.factor;
    const transition = (this.rate_Hz - 2 * cleanTo_Hz) / sampleRate_Hz;
    if (this.factor > 1 && !(transition > 0)) {
      throw new RangeError(`cleanTo_Hz must lie under ${this.rate_Hz / 2}, got ${cleanTo_Hz}`);
    }
    this.half = this.factor === 1 ? 0 : Math.ceil(92 / (2.285 * 2 * Math.PI * transition) / 2);
    this.taps = lowPassTaps(this.half, 0.5 / this.factor);
  }

  /** The whole signal; sample n stands at time n / rate. A mono signal stays mono. */
  ofSignal(signal: StereoSignal): StereoSignal {
    const left = this.ofChannel(signal.left);
    return { left, right: isMono(signal) ? left : this.ofChannel(signal.right), sampleRate_Hz: this.rate_Hz };
  }

  ofChannel(samples: Channel): Float64Array {
    if (this.factor === 1) return Float64Array.from(samples);
    const output = new Float64Array(Math.ceil(samples.length / this.factor));
    this.excerpt(samples, 0, output, output.length);
    return output;
  }

  /** Writes `count` samples at input positions first, first + factor, ... to `output`; outside the signal is silence. */
  excerpt(samples: Channel, first: number, output: Float64Array, count: number): void {
    const { taps, half, factor } = this;
    const last = samples.length - 1;
    for (let n = 0; n < count; n++) {
      const centre = first + n * factor;
      const from = Math.max(-half, -centre);
      const to = Math.min(half, last - centre);
      let sum = 0;
      for (let k = from; k <= to; k++) sum += taps[half + k]! * samples[centre + k]!;
      output[n] = sum;
    }
  }
}

function lowPassTaps(half: number, corner: number): Float64Array {
  const taps = new Float64Array(2 * half + 1);
  let sum = 0;
  for (let k = -half; k <= half; k++) {
    const x = 2 * Math.PI * corner * k;
    const value = k === 0 ? 1 : (sin(x) / x) * kaiser(k / half, 10);
    taps[half + k] = value;
    sum += value;
  }
  for (let i = 0; i < taps.length; i++) taps[i]! /= sum;
  return taps;
}
