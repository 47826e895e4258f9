import { cosCycles } from '../units/exact-math.js';
import { ComplexFft } from '../dsp/fft.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { lowRate_Hz, lowSignal, LOWS_END_Hz } from './low-channel.js';
import { bandWeights, TWELFTHS_Hz, type BandWeights } from './third-octaves.js';

/**
 * Spectra of short windows at given times, in the lows only: what clearance, make room and its solver share.
 *
 * Window, relative to the time: sin^2 rise -10..0 ms, 1 until 45 ms before its end, cos^2 fall over those 45 ms; 150 ms long
 * unless told. Worked at about 4 kHz, zero-padded to bins of 1 Hz or less, kept to 600 Hz.
 */
export class HitSpectra {
  readonly rate_Hz: number;
  readonly binWidth_Hz: number;
  /** Bins 0..binCount - 1 are kept, on both sides of 0 Hz. */
  readonly binCount: number;
  private readonly fft: ComplexFft;
  private readonly re: Float64Array;
  private readonly im: Float64Array;
  private readonly bands: readonly BandWeights[];

  constructor(sampleRate_Hz: number) {
    this.rate_Hz = lowRate_Hz(sampleRate_Hz);
    let size = 4096;
    while (size < this.rate_Hz) size *= 2;
    this.fft = new ComplexFft(size);
    this.re = new Float64Array(size);
    this.im = new Float64Array(size);
    this.binWidth_Hz = this.rate_Hz / size;
    this.binCount = Math.ceil(LOWS_END_Hz / this.binWidth_Hz) + 1;
    this.bands = TWELFTHS_Hz.map((centre) => bandWeights(centre, this.binWidth_Hz));
  }

  /** @param length_s from the time to the window's end, 0.15 unless told (0.06..1). */
  of(signal: StereoSignal, time_s: number, length_s = HIT_WINDOW_S): HitSpectrum {
    const { rate_Hz, re, im } = this;
    const { left, right } = lowSignal(signal);
    const first = Math.ceil((time_s - RISE_S) * rate_Hz);
    const end = Math.ceil((time_s + length_s) * rate_Hz);
    const count = Math.min(re.length, end - first);
    let windowPower = 0;
    for (let n = 0; n < count; n++) {
      const w = windowAt((first + n) / rate_Hz - time_s, length_s);
      re[n] = w * (left[first + n] ?? 0);
      im[n] = w * (right[first + n] ?? 0);
      windowPower += w * w;
    }
    re.fill(0, count);
    im.fill(0, count);
    this.fft.forward(re, im);
    return this.kept(1 / (this.fft.size * windowPower));
  }

  /** Bins -binCount + 1 .. binCount - 1 of L + iR, scaled so that their powers add up to mean squares in the window. */
  private kept(powerScale: number): HitSpectrum {
    const { re, im, binCount } = this;
    const scale = Math.sqrt(powerScale);
    const size = re.length;
    const kept = { re: new Float64Array(2 * binCount - 1), im: new Float64Array(2 * binCount - 1) };
    for (let k = 1 - binCount; k < binCount; k++) {
      const from = k < 0 ? size + k : k;
      kept.re[k + binCount - 1] = re[from]! * scale;
      kept.im[k + binCount - 1] = im[from]! * scale;
    }
    return kept;
  }

  /** Mean square in each of `TWELFTHS_Hz`, both channels summed (a mono sound counts twice). */
  bandPowers(spectrum: HitSpectrum): Float64Array {
    return this.bandCrossPowers(spectrum, spectrum);
  }

  /**
   * Re sum X Y* in each band, both channels summed, so that the powers of x + g y follow without another transform:
   * P(x) + 2 g C(x, y) + g^2 P(y).
   */
  bandCrossPowers(x: HitSpectrum, y: HitSpectrum): Float64Array {
    const powers = new Float64Array(this.bands.length);
    const zero = this.binCount - 1;
    this.bands.forEach(({ firstBin, weights }, b) => {
      let sum = 0;
      for (let i = 0; i < weights.length; i++) {
        const above = zero + firstBin + i;
        const below = zero - firstBin - i;
        sum +=
          weights[i]! *
          (x.re[above]! * y.re[above]! +
            x.im[above]! * y.im[above]! +
            x.re[below]! * y.re[below]! +
            x.im[below]! * y.im[below]!);
      }
      powers[b] = sum;
    });
    return powers;
  }

  /** Mean square between two frequencies, both channels summed. */
  power(spectrum: HitSpectrum, from_Hz: number, to_Hz: number): number {
    const zero = this.binCount - 1;
    let sum = 0;
    for (let k = Math.ceil(from_Hz / this.binWidth_Hz); k <= to_Hz / this.binWidth_Hz && k < this.binCount; k++) {
      sum += squareAt(spectrum, zero + k) + squareAt(spectrum, zero - k);
    }
    return sum;
  }
}

/** Bins of L + iR around 0 Hz, negative frequencies first; linear in the sound. */
export interface HitSpectrum {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** @returns the spectrum of the sum of two sounds at the same time. */
export function sumOfSpectra(a: HitSpectrum, b: HitSpectrum): HitSpectrum {
  return { re: a.re.map((value, i) => value + b.re[i]!), im: a.im.map((value, i) => value + b.im[i]!) };
}

/** Seconds from the hit to the end of its window: the longest that stays inside a sixteenth at 100 bpm. */
export const HIT_WINDOW_S = 0.15;
const RISE_S = 0.01;
const FALL_S = 0.045;

function windowAt(time_s: number, length_s: number): number {
  if (time_s < -RISE_S || time_s > length_s) return 0;
  if (time_s < 0) return squaredCos(time_s / RISE_S / 4);
  const fallen_s = time_s - (length_s - FALL_S);
  return fallen_s <= 0 ? 1 : squaredCos(fallen_s / FALL_S / 4);
}

function squaredCos(cycles: number): number {
  const c = cosCycles(cycles);
  return c * c;
}

function squareAt({ re, im }: HitSpectrum, index: number): number {
  return re[index]! * re[index]! + im[index]! * im[index]!;
}
