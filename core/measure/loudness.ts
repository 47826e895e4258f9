import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';
import { sorted } from '../units/statistics.js';
import { kWeighting } from './k-weighting.js';
import { SectionPairs } from './section-pairs.js';

/**
 * Loudness by Recommendation ITU-R BS.1770-5 (11/2023), Annex 1: L = -0.691 + 10 lg sum G_i z_i, z the mean square of the
 * K-weighted channel, G 1 for left, right and centre, 1.41 for the surrounds. Momentary 0.4 s, short-term 3 s (rectangular,
 * ungated, EBU Tech 3341:2023), integrated over 0.4 s blocks every 0.1 s with both gates, range by EBU Tech 3342:2023.
 */
export interface Loudness {
  readonly integrated_LUFS: Reading;
  readonly range_LU: Reading;
  readonly maxMomentary_LUFS: Reading;
  readonly maxShortTerm_LUFS: Reading;
  /** Every 10 ms: the momentary loudness of the 0.4 s that begin there, -Infinity in digital silence. */
  readonly momentary_LUFS: Float64Array;
  /** Every 10 ms: the short-term loudness of the 3 s that begin there. */
  readonly shortTerm_LUFS: Float64Array;
}

/** One channel with its weight G. */
export interface WeightedChannel {
  readonly samples: Channel;
  readonly weight: number;
}

export const SURROUND_WEIGHT = 1.41;
const OFFSET_LU = -0.691;
const ABSOLUTE_GATE_LUFS = -70;
const STEPS_PER_SECOND = 100;

export function power_to_LUFS(power: number): number {
  return OFFSET_LU + power_to_dB(power);
}

/** Integrated loudness of a stereo signal, LUFS; unmeasurable where no block passes the gate at -70 LUFS. */
export function integratedLoudness(signal: StereoSignal): Reading {
  return gatedLoudness(loudnessBlocks(signal));
}

/** Mean K-weighted powers of the 0.4 s blocks every 0.1 s that integrated loudness is made of, both channels added. */
export function loudnessBlocks(signal: StereoSignal): Float64Array {
  return blockPowers(stepEnergies(channelsOf(signal), signal.sampleRate_Hz, 10), signal.sampleRate_Hz, 10);
}

/** Every reading of Tech 3341 and 3342, of any set of channels: five with their weights for 5.0. */
export function measureLoudness(channels: readonly WeightedChannel[], sampleRate_Hz: number): Loudness {
  const energies = stepEnergies(channels, sampleRate_Hz, STEPS_PER_SECOND);
  const momentary = movingPower(energies, 40, sampleRate_Hz);
  const shortTerm = movingPower(energies, 300, sampleRate_Hz);
  return {
    integrated_LUFS: gatedLoudness(momentary.filter((_, i) => i % 10 === 0)),
    range_LU: rangeOf(shortTerm.filter((_, i) => i % 10 === 0)),
    maxMomentary_LUFS: loudestOf(momentary, 0.4),
    maxShortTerm_LUFS: loudestOf(shortTerm, 3),
    momentary_LUFS: momentary.map(power_to_LUFS),
    shortTerm_LUFS: shortTerm.map(power_to_LUFS),
  };
}

/** Left and right with weight 1; a mono sound is one channel counted twice. */
export function channelsOf(signal: StereoSignal): WeightedChannel[] {
  if (isMono(signal)) return [{ samples: signal.left, weight: 2 }];
  return [
    { samples: signal.left, weight: 1 },
    { samples: signal.right, weight: 1 },
  ];
}

/** Where step `i` of `stepsPerSecond` begins, in samples. */
export function stepStart(i: number, sampleRate_Hz: number, stepsPerSecond: number): number {
  return Math.round((i * sampleRate_Hz) / stepsPerSecond);
}

/**
 * Indices of the 0.4 s blocks that pass both gates of BS.1770-5 (equations 3 to 7; strictly above -70 LUFS, and strictly above
 * the loudness of those less 10 LU).
 */
export function gatedBlocks(powers: ArrayLike<number>): number[] {
  const all = Array.from({ length: powers.length }, (_, i) => i);
  const absolute = all.filter((i) => power_to_LUFS(powers[i]!) > ABSOLUTE_GATE_LUFS);
  if (absolute.length === 0) return [];
  const gate = meanOf(powers, absolute) * 0.1;
  return absolute.filter((i) => powers[i]! > gate);
}

/** Sums of squares of 0.1 s steps to mean powers of 0.4 s blocks every 0.1 s; an incomplete last block is dropped. */
export function blockPowers(energies: Float64Array, sampleRate_Hz: number, stepsPerSecond: number): Float64Array {
  return movingPower(energies, Math.round(0.4 * stepsPerSecond), sampleRate_Hz, stepsPerSecond);
}

/** Integrated loudness, LUFS, from the powers of 0.4 s blocks: both gates of BS.1770-5. */
export function gatedLoudness(powers: Float64Array): Reading {
  const blocks = gatedBlocks(powers);
  if (blocks.length === 0) return unmeasurable('no 400 ms block is louder than −70 LUFS');
  return figure(power_to_LUFS(meanOf(powers, blocks)));
}

/** EBU Tech 3342: P95 - P10 of the short-term loudness, gated at -70 LUFS and 20 LU under the mean of what is left. */
function rangeOf(powers: Float64Array): Reading {
  const absolute = powers.filter((power) => power_to_LUFS(power) >= ABSOLUTE_GATE_LUFS);
  if (absolute.length === 0) return unmeasurable('nothing of 3 s is louder than −70 LUFS');
  const gate = absolute.reduce((sum, power) => sum + power, 0) / absolute.length / 100;
  const levels = sorted(absolute.filter((power) => power >= gate)).map(power_to_LUFS);
  const at = (p: number): number => levels[Math.round(((levels.length - 1) * p) / 100)]!;
  return figure(at(95) - at(10));
}

function loudestOf(powers: Float64Array, window_s: number): Reading {
  let loudest = 0;
  for (const power of powers) if (power > loudest) loudest = power;
  return loudest > 0 ? figure(power_to_LUFS(loudest)) : unmeasurable(`silent, or shorter than ${window_s} s`);
}

/** Weighted sums of squares of the K-weighted channels in steps of 1 / stepsPerSecond; an incomplete last step is dropped. */
function stepEnergies(
  channels: readonly WeightedChannel[],
  sampleRate_Hz: number,
  stepsPerSecond: number,
): Float64Array {
  const frameCount = channels[0]?.samples.length ?? 0;
  const energies = new Float64Array(Math.floor((frameCount * stepsPerSecond) / sampleRate_Hz + 1e-9));
  const chunks = channels.map(() => new Float64Array(Math.ceil(sampleRate_Hz / stepsPerSecond) + 1));
  const weighting = new SectionPairs(channels.map(() => kWeighting(sampleRate_Hz)));
  const ofChannels = new Float64Array(channels.length);
  for (let i = 0; i < energies.length; i++) {
    const from = stepStart(i, sampleRate_Hz, stepsPerSecond);
    const count = stepStart(i + 1, sampleRate_Hz, stepsPerSecond) - from;
    channels.forEach(({ samples }, c) => chunks[c]!.set(samples.subarray(from, from + count)));
    weighting.filter(chunks, chunks, count, ofChannels);
    channels.forEach(({ weight }, c) => (energies[i]! += weight * ofChannels[c]!));
  }
  return energies;
}

function movingPower(
  energies: Float64Array,
  steps: number,
  sampleRate_Hz: number,
  stepsPerSecond: number = STEPS_PER_SECOND,
): Float64Array {
  const powers = new Float64Array(Math.max(0, energies.length - steps + 1));
  for (let i = 0; i < powers.length; i++) {
    let sum = 0;
    for (let k = 0; k < steps; k++) sum += energies[i + k]!;
    const frames = stepStart(i + steps, sampleRate_Hz, stepsPerSecond) - stepStart(i, sampleRate_Hz, stepsPerSecond);
    powers[i] = sum / frames;
  }
  return powers;
}

function meanOf(powers: ArrayLike<number>, indices: readonly number[]): number {
  let sum = 0;
  for (const i of indices) sum += powers[i]!;
  return sum / indices.length;
}
