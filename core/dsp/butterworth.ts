import { cos, sin, tan } from '../units/exact-math.js';
import type { Hertz } from '../units/units.js';
import { highPass, lowPass, type BiquadCoefficients } from './biquad.js';

/**
 * Butterworth filters as second-order sections, by the bilinear transform pre-warped to the corner.
 * |H|^2 = 1 / (1 + (f/fc)^2N): -3.0103 dB at the corner. S. Butterworth, "On the Theory of Filter Amplifiers", 1930; section
 * qualities 1 / (2 cos(pi (2k + 1) / 2N)).
 */
export function butterworthLowPass(order: number, corner_Hz: Hertz, sampleRate_Hz: Hertz): BiquadCoefficients[] {
  return sectionQualities(order)
    .map((q) => lowPass(sampleRate_Hz, corner_Hz, q))
    .concat(order % 2 === 1 ? [firstOrderLowPass(corner_Hz, sampleRate_Hz)] : []);
}

export function butterworthHighPass(order: number, corner_Hz: Hertz, sampleRate_Hz: Hertz): BiquadCoefficients[] {
  return sectionQualities(order)
    .map((q) => highPass(sampleRate_Hz, corner_Hz, q))
    .concat(order % 2 === 1 ? [firstOrderHighPass(corner_Hz, sampleRate_Hz)] : []);
}

function sectionQualities(order: number): number[] {
  const qualities: number[] = [];
  for (let k = 0; k < Math.floor(order / 2); k++) {
    qualities.push(1 / (2 * cos((Math.PI * (order % 2 === 1 ? k + 1 : k + 0.5)) / order)));
  }
  return qualities;
}

export function firstOrderLowPass(corner_Hz: Hertz, sampleRate_Hz: Hertz): BiquadCoefficients {
  const t = tan((Math.PI * corner_Hz) / sampleRate_Hz);
  const gain = t / (1 + t);
  return { b0: gain, b1: gain, b2: 0, a1: (t - 1) / (t + 1), a2: 0 };
}

export function firstOrderHighPass(corner_Hz: Hertz, sampleRate_Hz: Hertz): BiquadCoefficients {
  const t = tan((Math.PI * corner_Hz) / sampleRate_Hz);
  const gain = 1 / (1 + t);
  return { b0: gain, b1: -gain, b2: 0, a1: (t - 1) / (t + 1), a2: 0 };
}

/**
 * Band-pass of order N (2N poles) between two -3 dB corners: the analogue low-pass poles p become the roots of
 * s^2 - p B s + w0^2 = 0, B = w2 - w1, w0^2 = w1 w2, with pre-warped corners w = tan(pi f / fs).
 */
export function butterworthBandPass(
  order: number,
  low_Hz: Hertz,
  high_Hz: Hertz,
  sampleRate_Hz: Hertz,
): BiquadCoefficients[] {
  const w1 = tan((Math.PI * low_Hz) / sampleRate_Hz);
  const w2 = tan((Math.PI * high_Hz) / sampleRate_Hz);
  const width = w2 - w1;
  const centre2 = w1 * w2;
  const sections: BiquadCoefficients[] = [];
  for (let k = 0; k < Math.floor((order + 1) / 2); k++) {
    const angle = (Math.PI * (2 * k + order + 1)) / (2 * order);
    const halfRe = (cos(angle) * width) / 2;
    const halfIm = (sin(angle) * width) / 2;
    const root = complexSqrt(halfRe * halfRe - halfIm * halfIm - centre2, 2 * halfRe * halfIm);
    const real = order % 2 === 1 && k === (order - 1) / 2;
    if (real && root.im === 0) {
      sections.push(sectionFromRealPair(halfRe + root.re, halfRe - root.re, width));
    } else {
      sections.push(sectionFromPole(halfRe + root.re, halfIm + root.im, width));
      if (!real) sections.push(sectionFromPole(halfRe - root.re, halfIm - root.im, width));
    }
  }
  return sections;
}

/** Analogue section width * s / (s^2 - 2 Re(p) s + |p|^2), through s = (1 - z^-1) / (1 + z^-1). */
function sectionFromPole(re: number, im: number, width: number): BiquadCoefficients {
  return bilinearBandPass(-2 * re, re * re + im * im, width);
}

function sectionFromRealPair(first: number, second: number, width: number): BiquadCoefficients {
  return bilinearBandPass(-(first + second), first * second, width);
}

function bilinearBandPass(d1: number, d0: number, width: number): BiquadCoefficients {
  const a0 = 1 + d1 + d0;
  return { b0: width / a0, b1: 0, b2: -width / a0, a1: (2 * d0 - 2) / a0, a2: (1 - d1 + d0) / a0 };
}

function complexSqrt(re: number, im: number): { re: number; im: number } {
  const size = Math.sqrt(re * re + im * im);
  const rootRe = Math.sqrt(Math.max(0, (size + re) / 2));
  const rootIm = Math.sqrt(Math.max(0, (size - re) / 2));
  return { re: rootRe, im: im < 0 ? -rootIm : rootIm };
}
