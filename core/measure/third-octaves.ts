import { cosCycles, exp2, exp10, log2 } from '../units/exact-math.js';

/** Exact mid frequency of the third-octave band `x` bands from 1 kHz: 1000 * G^(x / 3), G = 10^0.3 (IEC 61260-1:2014). */
export function thirdOctave_Hz(x: number): number {
  return 1000 * exp10((0.3 * x) / 3);
}

/** Exact mid frequencies of all third-octave bands whose nominal range lies in `from_Hz`..`to_Hz`, ascending. */
export function thirdOctaves_Hz(from_Hz: number, to_Hz: number): number[] {
  const centres: number[] = [];
  for (let x = -20; x <= 13; x++) {
    const centre = thirdOctave_Hz(x);
    if (centre >= from_Hz && centre <= to_Hz) centres.push(centre);
  }
  return centres;
}

/** Edges of a third-octave band: f * G^(-1/6) and f * G^(1/6) (IEC 61260-1:2014). */
export function thirdOctaveEdges_Hz(centre_Hz: number): readonly [number, number] {
  return [centre_Hz * exp10(-0.05), centre_Hz * exp10(0.05)];
}

/** Centres of clearance bands: 25 * 2^(i / 12) Hz up to 500 Hz, i = 0..51. */
export const TWELFTHS_Hz: readonly number[] = Array.from({ length: 52 }, (_, i) => 25 * exp2(i / 12));

/** Bins and weights of one band on a spectrum whose bins stand `binWidth_Hz` apart. */
export interface BandWeights {
  readonly firstBin: number;
  readonly weights: Float64Array;
}

/**
 * Overlapping bands on a spectrum's bins: B(f) = cos^2(pi/2 * d), d = 3 |log2(f / f_c)| < 1, so that the half-power width is a
 * third of an octave and neighbours an octave's third apart add up to 1.
 */
export function bandWeights(centre_Hz: number, binWidth_Hz: number): BandWeights {
  const firstBin = Math.ceil((centre_Hz * exp2(-1 / 3)) / binWidth_Hz);
  const lastBin = Math.floor((centre_Hz * exp2(1 / 3)) / binWidth_Hz);
  const weights = new Float64Array(lastBin - firstBin + 1);
  for (let i = 0; i < weights.length; i++) {
    const octaves = log2(((firstBin + i) * binWidth_Hz) / centre_Hz);
    const distance = Math.min(1, 3 * Math.abs(octaves));
    const c = cosCycles(distance / 4);
    weights[i] = c * c;
  }
  return { firstBin, weights };
}
