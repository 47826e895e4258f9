import type { Channel } from '../signal/stereo-signal.js';
import { ComplexFft } from '../dsp/fft.js';
import { LowBand } from '../dsp/low-band.js';
import { cosCycles, sinCycles } from '../units/exact-math.js';
import { power_to_dB } from '../units/decibels.js';

/** The peak of a whitened correlation. */
export interface WhitenedPeak {
  /** How much later the second sound is. */
  readonly delay_ms: number;
  readonly polarity: 1 | -1;
  /** Second peak (1 ms or more away) over the first, 0..1: the lower, the surer. */
  readonly quality: number;
}

/**
 * Averaged cross-spectrum of two sounds x (the reference) and y: P_xy = mean of X* Y over Hann segments of 8192 points at
 * about 8 kHz, half overlapping (P. D. Welch, IEEE Trans. Audio Electroacoustics 15(2), 1967); shorter segments where the
 * sound is short, so that there are at least eight. Coherence = |P_xy|^2 / (P_xx P_yy).
 */
export class CrossSpectrum {
  private readonly xx: Float64Array;
  private readonly yy: Float64Array;
  private readonly re: Float64Array;
  private readonly im: Float64Array;

  private constructor(
    private readonly rate_Hz: number,
    private readonly size: number,
  ) {
    this.xx = new Float64Array(size / 2 + 1);
    this.yy = new Float64Array(size / 2 + 1);
    this.re = new Float64Array(size / 2 + 1);
    this.im = new Float64Array(size / 2 + 1);
  }

  /** @returns null where the sounds are shorter than nine half segments of 2048 points (about 1.2 s). */
  static of(x: Channel, y: Channel, sampleRate_Hz: number): CrossSpectrum | null {
    const band = new LowBand(sampleRate_Hz, 8000, 2400);
    const count = Math.ceil(Math.min(x.length, y.length) / band.factor);
    let size = 8192;
    while (size > 2048 && count < 4.5 * size) size /= 2;
    if (count < 4.5 * size) return null;
    const cross = new CrossSpectrum(band.rate_Hz, size);
    cross.average(band.ofChannel(x), band.ofChannel(y), count);
    return cross;
  }

  private average(x: Channel, y: Channel, count: number): void {
    const { size } = this;
    const fft = new ComplexFft(size);
    const window = Float64Array.from({ length: size }, (_, n) => 0.5 - 0.5 * cosCycles(n / size));
    const re = new Float64Array(size);
    const im = new Float64Array(size);
    for (let start = 0; start + size <= count; start += size / 2) {
      for (let n = 0; n < size; n++) {
        re[n] = window[n]! * x[start + n]!;
        im[n] = window[n]! * y[start + n]!;
      }
      fft.forward(re, im);
      this.addSegment(re, im);
    }
  }

  /** One segment's spectrum of x + iy, parted into X and Y. */
  private addSegment(re: Float64Array, im: Float64Array): void {
    for (let k = 1; k < this.size / 2; k++) {
      const below = this.size - k;
      const xRe = 0.5 * (re[k]! + re[below]!);
      const xIm = 0.5 * (im[k]! - im[below]!);
      const yRe = 0.5 * (im[k]! + im[below]!);
      const yIm = 0.5 * (re[below]! - re[k]!);
      this.xx[k]! += xRe * xRe + xIm * xIm;
      this.yy[k]! += yRe * yRe + yIm * yIm;
      this.re[k]! += xRe * yRe + xIm * yIm;
      this.im[k]! += xRe * yIm - xIm * yRe;
    }
  }

  private bins(from_Hz: number, to_Hz: number): readonly [number, number] {
    const width = this.rate_Hz / this.size;
    return [Math.max(1, Math.ceil(from_Hz / width)), Math.min(this.size / 2 - 1, Math.floor(to_Hz / width))];
  }

  private coherenceAt(k: number): number {
    const parts = this.xx[k]! * this.yy[k]!;
    return parts > 0 ? (this.re[k]! * this.re[k]! + this.im[k]! * this.im[k]!) / parts : 0;
  }

  /** Mean coherence, each bin weighted by sqrt(P_xx P_yy), so that silence between the partials does not count. */
  coherence(from_Hz: number, to_Hz: number): number | null {
    const [from, to] = this.bins(from_Hz, to_Hz);
    let sum = 0;
    let weights = 0;
    for (let k = from; k <= to; k++) {
      const weight = Math.sqrt(this.xx[k]! * this.yy[k]!);
      sum += weight * this.coherenceAt(k);
      weights += weight;
    }
    return weights > 0 ? sum / weights : null;
  }

  /** The largest |r| within +-reach of the whitened cross-spectrum times coherence^4; its sign is the polarity. */
  whitenedPeak(from_Hz: number, to_Hz: number, reach_ms: number): WhitenedPeak {
    const correlation = this.whitenedCorrelation(from_Hz, to_Hz);
    const perMs = (this.rate_Hz * INTERPOLATION) / 1000;
    const reach = Math.round(reach_ms * perMs);
    const at = (lag: number): number => correlation[lag < 0 ? correlation.length + lag : lag]!;
    let best = 0;
    for (let lag = -reach; lag <= reach; lag++) if (Math.abs(at(lag)) > Math.abs(at(best))) best = lag;
    let second = 0;
    for (let lag = -reach; lag <= reach; lag++) {
      const size = Math.abs(at(lag));
      const isPeak = size >= Math.abs(at(lag - 1)) && size >= Math.abs(at(lag + 1));
      if (isPeak && Math.abs(lag - best) >= perMs && size > second) second = size;
    }
    const peak = at(best);
    const curve = at(best - 1) - 2 * peak + at(best + 1);
    const fraction = curve === 0 ? 0 : (0.5 * (at(best - 1) - at(best + 1))) / curve;
    return {
      delay_ms: (best + fraction) / perMs,
      polarity: peak < 0 ? -1 : 1,
      quality: peak === 0 ? 1 : second / Math.abs(peak),
    };
  }

  private whitenedCorrelation(from_Hz: number, to_Hz: number): Float64Array {
    const re = new Float64Array(this.size * INTERPOLATION);
    const im = new Float64Array(this.size * INTERPOLATION);
    const [from, to] = this.bins(from_Hz, to_Hz);
    for (let k = from; k <= to; k++) {
      const magnitude = Math.sqrt(this.re[k]! * this.re[k]! + this.im[k]! * this.im[k]!);
      const coherence = this.coherenceAt(k);
      const weight = magnitude > 0 ? (coherence * coherence * coherence * coherence) / magnitude : 0;
      re[k] = weight * this.re[k]!;
      im[k] = weight * this.im[k]!;
    }
    new ComplexFft(re.length).inverse(re, im);
    return re; // half the spectrum is left out, which halves the correlation and changes nothing else
  }

  /** Energy of x + polarity y(t + delay) over that of the parts, in a band; null where the band is silent. */
  sum_dB(from_Hz: number, to_Hz: number, delay_ms: number, polarity: 1 | -1): number | null {
    const { parts, cross } = this.energies(from_Hz, to_Hz, delay_ms);
    return parts > 0 ? power_to_dB(Math.max(1e-6, 1 + (2 * polarity * cross) / parts)) : null;
  }

  /** What taking out delay and polarity gains in the energy of the sum; 0 where the band is silent. */
  correctedGain_dB(from_Hz: number, to_Hz: number, delay_ms: number, polarity: 1 | -1): number {
    const now = this.sum_dB(from_Hz, to_Hz, 0, 1);
    const corrected = this.sum_dB(from_Hz, to_Hz, delay_ms, polarity);
    return now === null || corrected === null ? 0 : corrected - now;
  }

  private energies(from_Hz: number, to_Hz: number, delay_ms: number): { parts: number; cross: number } {
    const [from, to] = this.bins(from_Hz, to_Hz);
    const cyclesPerBin = (delay_ms / 1000) * (this.rate_Hz / this.size);
    let parts = 0;
    let cross = 0;
    for (let k = from; k <= to; k++) {
      parts += this.xx[k]! + this.yy[k]!;
      cross += this.re[k]! * cosCycles(cyclesPerBin * k) - this.im[k]! * sinCycles(cyclesPerBin * k);
    }
    return { parts, cross };
  }
}

/** The correlation is read on a grid this much finer than the rate. */
const INTERPOLATION = 4;
