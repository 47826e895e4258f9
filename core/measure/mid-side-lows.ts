import { ComplexFft, RealFft } from '../dsp/fft.js';
import { isMono, type StereoSignal } from '../signal/stereo-signal.js';
import { lowChannel } from './low-channel.js';

/** Energies (sums of squares at the signal's own rate) of M = (L + R) / 2 and S = (L - R) / 2, and sum M S. */
export interface MidSideEnergy {
  readonly mid: number;
  readonly side: number;
  readonly cross: number;
}

/**
 * The whole song's spectrum of mid and side in the lows (to 600 Hz), from one transform of M + iS: energy between any two
 * frequencies, and its course over time.
 */
export class MidSideLows {
  private readonly duration_s: number;
  private readonly binWidth_Hz: number;
  /** Turns |bin|^2 into energy at the signal's own rate. */
  private readonly scale: number;

  private constructor(
    private readonly re: Float64Array,
    private readonly im: Float64Array,
    private readonly rate_Hz: number,
    private readonly count: number,
    private readonly factor: number,
    /** Whether left and right are the same. */
    readonly mono: boolean,
  ) {
    this.binWidth_Hz = rate_Hz / re.length;
    this.duration_s = count / rate_Hz;
    this.scale = factor / re.length;
  }

  static of(signal: StereoSignal): MidSideLows {
    const { samples: left, rate_Hz, factor } = lowChannel(signal.left, signal.sampleRate_Hz);
    const mono = isMono(signal);
    const right = mono ? left : lowChannel(signal.right, signal.sampleRate_Hz).samples;
    const { re, im } = mono ? spectrumOfMid(left) : spectrumOf(left, right);
    return new MidSideLows(re, im, rate_Hz, left.length, factor, mono);
  }

  /** The lows of the sum of sounds of one length, from their spectra; null where there are none. */
  static sumOf(parts: readonly MidSideLows[]): MidSideLows | null {
    const [first, ...others] = parts;
    if (first === undefined) return null;
    const re = Float64Array.from(first.re);
    const im = Float64Array.from(first.im);
    for (const part of others) {
      for (let k = 0; k < re.length; k++) {
        re[k]! += part.re[k]!;
        im[k]! += part.im[k]!;
      }
    }
    const mono = parts.every((part) => part.mono);
    return new MidSideLows(re, im, first.rate_Hz, first.count, first.factor, mono);
  }

  /** Length of the signal, at its own rate. */
  get frameCount(): number {
    return this.count * this.factor;
  }

  /** Energy of the bins from from_Hz to to_Hz, both ends included. */
  energy(from_Hz: number, to_Hz: number): MidSideEnergy {
    const { re, im, scale } = this;
    let mid = 0;
    let side = 0;
    let cross = 0;
    for (let k = Math.max(1, Math.ceil(from_Hz / this.binWidth_Hz)); k <= to_Hz / this.binWidth_Hz; k++) {
      const below = re.length - k;
      const midRe = 0.5 * (re[k]! + re[below]!);
      const midIm = 0.5 * (im[k]! - im[below]!);
      const sideRe = 0.5 * (im[k]! + im[below]!);
      const sideIm = 0.5 * (re[below]! - re[k]!);
      mid += midRe * midRe + midIm * midIm;
      side += sideRe * sideRe + sideIm * sideIm;
      cross += midRe * sideRe + midIm * sideIm;
    }
    return { mid: 2 * scale * mid, side: 2 * scale * side, cross: 2 * scale * cross };
  }

  /** The same energies in windows of 1 s every 0.25 s (one shorter window where the song is shorter), the band cut out exactly. */
  windows(from_Hz: number, to_Hz: number): { time_s: number; energy: MidSideEnergy }[] {
    const { mid, side, rate_Hz } = this.bandInTime(from_Hz, to_Hz);
    const quarter = Math.max(1, Math.round(rate_Hz / 4));
    const count = Math.ceil(this.duration_s * rate_Hz);
    const quarters: MidSideEnergy[] = [];
    for (let start = 0; start < count; start += quarter) {
      quarters.push(energyBetween(mid, side, start, Math.min(count, start + quarter)));
    }
    const windows: { time_s: number; energy: MidSideEnergy }[] = [];
    for (let q = 0; q === 0 || q + 4 <= quarters.length; q++) {
      const inside = quarters.slice(q, q + 4);
      windows.push({ time_s: (q * quarter) / rate_Hz, energy: inside.reduce(added, { mid: 0, side: 0, cross: 0 }) });
    }
    return windows;
  }

  private bandInTime(from_Hz: number, to_Hz: number): { mid: Float64Array; side: Float64Array; rate_Hz: number } {
    let size = powerOfTwoFrom((2.5 * to_Hz) / this.binWidth_Hz);
    size = Math.min(size, this.re.length);
    const mid = new Float64Array(size);
    const side = new Float64Array(size);
    for (let k = Math.max(1, Math.ceil(from_Hz / this.binWidth_Hz)); k <= to_Hz / this.binWidth_Hz; k++) {
      for (const [to, from] of [
        [k, k],
        [size - k, this.re.length - k],
      ] as const) {
        mid[to] = this.re[from]!;
        side[to] = this.im[from]!;
      }
    }
    new ComplexFft(size).inverse(mid, side);
    return { mid, side, rate_Hz: size * this.binWidth_Hz };
  }
}

/** The transform of M + iS. */
function spectrumOf(left: Float64Array, right: Float64Array): { re: Float64Array; im: Float64Array } {
  const size = powerOfTwoFrom(left.length);
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  for (let n = 0; n < left.length; n++) {
    re[n] = 0.5 * (left[n]! + right[n]!);
    im[n] = 0.5 * (left[n]! - right[n]!);
  }
  new ComplexFft(size).forward(re, im);
  return { re, im };
}

/** The same where there is no side: the transform of a real sound, at half the cost. */
function spectrumOfMid(mid: Float64Array): { re: Float64Array; im: Float64Array } {
  const size = powerOfTwoFrom(mid.length);
  const re = new Float64Array(size);
  const im = new Float64Array(size);
  new RealFft(size).forward(mid, re, im);
  for (let k = size / 2 + 1; k < size; k++) {
    re[k] = re[size - k]!;
    im[k] = -im[size - k]!;
  }
  return { re, im };
}

function energyBetween(mid: Float64Array, side: Float64Array, from: number, to: number): MidSideEnergy {
  const energy = { mid: 0, side: 0, cross: 0 };
  for (let n = from; n < to; n++) {
    energy.mid += mid[n]! * mid[n]!;
    energy.side += side[n]! * side[n]!;
    energy.cross += mid[n]! * side[n]!;
  }
  return energy;
}

function added(a: MidSideEnergy, b: MidSideEnergy): MidSideEnergy {
  return { mid: a.mid + b.mid, side: a.side + b.side, cross: a.cross + b.cross };
}

function powerOfTwoFrom(count: number): number {
  let size = 2;
  while (size < count) size *= 2;
  return size;
}
