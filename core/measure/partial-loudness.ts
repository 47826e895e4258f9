import { exp, exp10, power } from '../units/exact-math.js';
import { clamp } from '../units/units.js';
import { power_to_dB } from '../units/decibels.js';

/** A steady component: frequency and sound pressure level. */
export interface Component {
  readonly frequency_Hz: number;
  readonly level_dB: number;
}

/**
 * Loudness in sone of steady components heard with both ears, alone and beside others, after ISO 532-2 (front end, free field)
 * and B. C. J. Moore, B. R. Glasberg and T. Baer, "A Model for the Prediction of Thresholds, Loudness, and Partial Loudness",
 * JAES 45(4), 1997, equations 17 to 20. Fitted to steady sounds under noise; the tables stop at 50 Hz, and two low tones within
 * one critical band beat rather than mask. A second opinion, never acted on by itself.
 */
export function loudnessOf_sone(sound: readonly Component[]): number {
  return partialLoudness_sone(sound, []);
}

/** The part of the loudness that `sound` keeps beside `others`. */
export function partialLoudness_sone(sound: readonly Component[], others: readonly Component[]): number {
  const own = sound.map(atTheCochlea);
  const other = others.map(atTheCochlea);
  const all = [...own, ...other];
  const levels_dB = all.map((component) => levelAround(component, all));
  let sum = 0;
  for (let step = 0; step <= 371; step++) {
    const centre_Hz = frequencyAt(FIRST_CAM + step * STEP_CAM);
    const signal = excitation(own, levels_dB, 0, centre_Hz);
    const noise = excitation(other, levels_dB, own.length, centre_Hz);
    sum += specificLoudness(signal, noise, centre_Hz) * STEP_CAM;
  }
  return (2 * sum) / BINAURAL_INHIBITION;
}

const FIRST_CAM = 1.8;
const STEP_CAM = 0.1;
const BINAURAL_INHIBITION = 1.3333;
const C = 0.0617;

type Table = readonly (readonly [number, number])[];

/** Middle ear, and free field to eardrum, dB, to 8 kHz: ISO 532-2:2017, Table 1. */
const MIDDLE_EAR: Table = [
  [20, -39.6],
  [25, -32],
  [31.5, -25.85],
  [40, -21.4],
  [50, -18.5],
  [63, -15.9],
  [80, -14.1],
  [100, -12.4],
  [125, -11],
  [160, -9.6],
  [200, -8.3],
  [250, -7.4],
  [315, -6.2],
  [400, -4.8],
  [500, -3.8],
  [630, -3.3],
  [750, -2.9],
  [800, -2.6],
  [1000, -2.6],
  [1250, -4.5],
  [1500, -5.4],
  [1600, -6.1],
  [2000, -8.5],
  [2500, -10.4],
  [3000, -7.3],
  [3150, -7],
  [4000, -6.6],
  [5000, -7],
  [6000, -9.2],
  [6300, -10.2],
  [8000, -12.2],
];
const FREE_FIELD: Table = [
  [100, 0],
  [125, 0.1],
  [160, 0.3],
  [200, 0.5],
  [250, 0.9],
  [315, 1.4],
  [400, 1.6],
  [500, 1.7],
  [630, 2.5],
  [750, 2.7],
  [800, 2.6],
  [1000, 2.6],
  [1250, 3.2],
  [1500, 5.2],
  [1600, 6.6],
  [2000, 12],
  [2500, 16.8],
  [3000, 15.3],
  [3150, 15.2],
  [4000, 14.2],
  [5000, 10.7],
  [6000, 7.1],
  [6300, 6.4],
  [8000, 1.8],
];
/** Excitation at threshold in quiet, dB. */
const THRESHOLD: Table = [
  [50, 27.46],
  [63, 23.45],
  [80, 18.47],
  [100, 15.13],
  [125, 11.97],
  [160, 9.34],
  [200, 7.43],
  [250, 5.75],
  [315, 4.73],
  [400, 3.92],
  [500, 3.15],
];
const ALPHA: Table = [
  [-25, 0.26692],
  [-20, 0.25016],
  [-15, 0.23679],
  [-10, 0.22228],
  [-5, 0.21055],
  [0, 0.2],
];
const A_OF_GAIN: Table = [
  [-25, 7.784],
  [-20, 6.675],
  [-15, 5.902],
  [-10, 5.145],
  [-5, 4.59],
  [0, 4.131],
];
/** Signal to noise at masked threshold, dB. */
const K: Table = [
  [50, 13.5],
  [63, 10],
  [80, 7.1],
  [100, 4.9],
  [125, 3.1],
  [160, 1.5],
  [200, 0.4],
  [250, -0.5],
  [315, -1.3],
  [400, -1.9],
  [500, -2.3],
  [1000, -3],
];

interface CochlearComponent {
  readonly frequency_Hz: number;
  readonly power: number;
}

function atTheCochlea({ frequency_Hz, level_dB }: Component): CochlearComponent {
  const passed_dB = level_dB + at(MIDDLE_EAR, frequency_Hz) + at(FREE_FIELD, frequency_Hz);
  return { frequency_Hz, power: exp10(passed_dB / 10) };
}

/** Straight lines between rows, the end rows held beyond them. */
function at(table: Table, x: number): number {
  let above = 1;
  while (above < table.length - 1 && table[above]![0] < x) above++;
  const [x0, y0] = table[above - 1]!;
  const [x1, y1] = table[above]!;
  return y0 + clamp((x - x0) / (x1 - x0), 0, 1) * (y1 - y0);
}

function erb_Hz(frequency_Hz: number): number {
  return 24.673 * (0.004368 * frequency_Hz + 1);
}

function frequencyAt(cam: number): number {
  return (exp10(cam / 21.366) - 1) / 0.004368;
}

/** Level within one ERB around a component, which sets the lower slope of every filter as that component meets it. */
function levelAround(component: CochlearComponent, all: readonly CochlearComponent[]): number {
  const half = erb_Hz(component.frequency_Hz) / 2;
  const near = all.filter((other) => Math.abs(other.frequency_Hz - component.frequency_Hz) <= half);
  return power_to_dB(near.reduce((sum, other) => sum + other.power, 0));
}

/** Rounded exponential filters: upper slope 4 f / ERB, lower slope falling with level. */
function excitation(
  components: readonly CochlearComponent[],
  levels_dB: readonly number[],
  first: number,
  centre_Hz: number,
): number {
  const upper = (4 * centre_Hz) / erb_Hz(centre_Hz);
  const atOnekHz = 4000 / erb_Hz(1000);
  let sum = 0;
  components.forEach(({ frequency_Hz, power: input }, i) => {
    const lower = upper - 0.35 * (upper / atOnekHz) * (levels_dB[first + i]! - 51);
    const g = Math.abs(frequency_Hz - centre_Hz) / centre_Hz;
    if (frequency_Hz > centre_Hz && g > 4) return;
    const p = frequency_Hz < centre_Hz ? lower : upper;
    sum += input * (1 + p * g) * exp(-p * g);
  });
  return sum;
}

function specificLoudness(signal: number, noise: number, centre_Hz: number): number {
  if (signal <= 0) return 0;
  const threshold_dB = at(THRESHOLD, centre_Hz);
  const gain_dB = 3.15 - threshold_dB;
  const quiet = exp10(threshold_dB / 10);
  const gain = exp10(gain_dB / 10);
  const alpha = at(ALPHA, gain_dB);
  const a = at(A_OF_GAIN, gain_dB);
  const compressed = (e: number): number => power(gain * e + a, alpha);
  const rest = power(a, alpha);
  if (noise <= 0) {
    const below = signal < quiet ? power((2 * signal) / (signal + quiet), 1.5) : 1;
    return C * below * (compressed(signal) - rest);
  }
  const masked = exp10(at(K, centre_Hz) / 10) * noise;
  const total = compressed(signal + noise);
  const atThreshold = compressed(noise + masked + quiet);
  if (signal >= masked + quiet) {
    const fades = power((masked + quiet) / signal, 0.3);
    return C * (total - rest) - C * (atThreshold - compressed(quiet)) * fades;
  }
  const faint = power((2 * signal) / (signal + masked + quiet), 1.5);
  const share = (compressed(quiet) - rest) / (atThreshold - compressed(noise));
  return C * faint * share * (total - compressed(noise));
}
