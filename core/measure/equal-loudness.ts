import { exp10, log2, log10, power } from '../units/exact-math.js';

/** ISO 226:2023, Table 1: frequency Hz, exponent alpha_f, transfer L_U dB, threshold T_f dB. */
const TABLE: readonly (readonly [number, number, number, number])[] = [
  [20, 0.635, -31.5, 78.1],
  [25, 0.602, -27.2, 68.7],
  [31.5, 0.569, -23.1, 59.5],
  [40, 0.537, -19.3, 51.1],
  [50, 0.509, -16.1, 44.0],
  [63, 0.482, -13.1, 37.5],
  [80, 0.456, -10.4, 31.5],
  [100, 0.433, -8.2, 26.5],
  [125, 0.412, -6.3, 22.1],
  [160, 0.391, -4.6, 17.9],
  [200, 0.373, -3.2, 14.4],
  [250, 0.357, -2.1, 11.4],
  [315, 0.343, -1.2, 8.6],
  [400, 0.33, -0.5, 6.2],
  [500, 0.32, 0.0, 4.4],
  [630, 0.311, 0.4, 3.0],
  [800, 0.303, 0.5, 2.2],
  [1000, 0.3, 0.0, 2.4],
  [1250, 0.295, -2.7, 3.5],
  [1600, 0.292, -4.2, 1.7],
  [2000, 0.29, -1.2, -1.3],
  [2500, 0.29, 1.4, -4.2],
  [3150, 0.289, 2.3, -6.0],
  [4000, 0.289, 1.0, -5.4],
  [5000, 0.289, -2.3, -1.5],
  [6300, 0.293, -7.2, 6.0],
  [8000, 0.303, -11.2, 12.6],
  [10000, 0.323, -10.9, 13.9],
  [12500, 0.354, -3.5, 12.3],
];

/**
 * Sound pressure level in dB of a pure tone that is as loud as `loudness_phon`: ISO 226:2023, Formula (1). Valid for 20 to 90
 * phon (80 above 4 kHz), 20 Hz to 12.5 kHz; outside these frequencies the nearest row holds. The standard defines no
 * interpolation: between rows its three parameters are interpolated over the logarithm of frequency.
 */
export function equalLoudnessLevel_dB(loudness_phon: number, frequency_Hz: number): number {
  const { alpha, transfer_dB, threshold_dB } = parametersAt(frequency_Hz);
  const term =
    power(4e-10, 0.3 - alpha) * (exp10(0.03 * loudness_phon) - exp10(0.072)) +
    exp10((alpha * (threshold_dB + transfer_dB)) / 10);
  return (10 / alpha) * log10(term) - transfer_dB;
}

/** Loudness level in phon of a pure tone of `level_dB`: ISO 226:2023, Formula (2). */
export function loudnessLevel_phon(level_dB: number, frequency_Hz: number): number {
  const { alpha, transfer_dB, threshold_dB } = parametersAt(frequency_Hz);
  const above = exp10((alpha * (level_dB + transfer_dB)) / 10) - exp10((alpha * (threshold_dB + transfer_dB)) / 10);
  return (100 / 3) * log10(above / power(4e-10, 0.3 - alpha) + exp10(0.072));
}

/** The weighting that turns the 60-phon contour flat, dB: 0 at 1 kHz, about -30 at 50 Hz. */
export function sixtyPhonWeighting_dB(frequency_Hz: number): number {
  return 60 - equalLoudnessLevel_dB(60, frequency_Hz);
}

function parametersAt(frequency_Hz: number): { alpha: number; transfer_dB: number; threshold_dB: number } {
  let above = 1;
  while (above < TABLE.length - 1 && TABLE[above]![0] < frequency_Hz) above++;
  const [low_Hz, ...low] = TABLE[above - 1]!;
  const [high_Hz, ...high] = TABLE[above]!;
  const share = Math.max(0, Math.min(1, log2(frequency_Hz / low_Hz) / log2(high_Hz / low_Hz)));
  const between = (i: 0 | 1 | 2): number => low[i] + share * (high[i] - low[i]);
  return { alpha: between(0), transfer_dB: between(1), threshold_dB: between(2) };
}
