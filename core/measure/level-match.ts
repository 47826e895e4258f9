import { RealFft } from '../dsp/fft.js';
import { hannWindow } from '../dsp/hann.js';
import type { Channel, StereoSignal } from '../signal/stereo-signal.js';
import { dB_to_power, power_to_dB } from '../units/decibels.js';
import { isMeasured, unmeasurable, type Unmeasurable } from '../units/reading.js';
import { gatedLoudness, loudnessBlocks } from './loudness.js';
import { loudnessOf_sone, type Component } from './partial-loudness.js';
import { thirdOctaveEdges_Hz, thirdOctaves_Hz } from './third-octaves.js';

/** What is compared: everything that is summed, or bass, kick, lane or low end by themselves. */
export type MatchScope = 'whole mix' | 'part';

export interface LevelMatch {
  readonly kind: 'match';
  /** Gain on the treated sound that makes it as loud as the source. */
  readonly match_dB: number;
  /** What remains between them when it is applied, in LU (whole mix) or in dB by the model (part). */
  readonly apart_LU: number;
  readonly by: 'BS.1770 loudness' | 'loudness model';
  /** False where the gain passes 6 dB: no level makes such a comparison fair. */
  readonly fair: boolean;
  /** Seconds of the song it was measured over, where that is not the whole. */
  readonly over_s?: number;
}

/** Beyond this no level makes the comparison fair. */
export const FAIR_MATCH_dB = 6;

/**
 * The gain that makes treated and source equally loud: the whole mix by BS.1770-5, a part by the loudness model of ISO 532-2
 * on its long-term third-octave spectrum (28 bands, 25 Hz to 12.5 kHz), since K-weighting says little of lows by themselves.
 * The model needs a level: the source is set to 75 dB SPL.
 */
export function levelMatch(source: StereoSignal, treated: StereoSignal, scope: MatchScope): LevelMatch | Unmeasurable {
  return scope === 'whole mix' ? byLoudness(source, treated) : byModel(source, treated);
}

function byLoudness(source: StereoSignal, treated: StereoSignal): LevelMatch | Unmeasurable {
  const before = gatedLoudness(loudnessBlocks(source));
  const blocks = loudnessBlocks(treated);
  const after = gatedLoudness(blocks);
  if (!isMeasured(before)) return before;
  if (!isMeasured(after)) return after;
  const match_dB = before.value - after.value;
  const gain = dB_to_power(match_dB);
  // K-weighting is linear: the blocks of the sound at another level are these, times the gain. The gate at -70 LUFS is not.
  const again = gatedLoudness(blocks.map((power) => gain * power));
  const apart_LU = isMeasured(again) ? Math.abs(again.value - before.value) : 0;
  return { kind: 'match', match_dB, apart_LU, by: 'BS.1770 loudness', fair: Math.abs(match_dB) <= FAIR_MATCH_dB };
}

const HEARD_AT_dB = 75;
const LARGEST_MATCH_dB = 24;
const STEPS = 14;

function byModel(source: StereoSignal, treated: StereoSignal): LevelMatch | Unmeasurable {
  const before = bandPowers(source);
  const after = bandPowers(treated);
  const total = before.reduce((sum, { power }) => sum + power, 0);
  if (total === 0 || after.every(({ power }) => power === 0)) return unmeasurable('one of the two is silent');
  const shift_dB = HEARD_AT_dB - power_to_dB(total);
  const wanted = loudnessOf_sone(componentsOf(before, shift_dB));
  if (wanted === 0) return unmeasurable('the source is too soft for the loudness model');
  // Loudness grows with level: the gain is enclosed and halved.
  let low = -LARGEST_MATCH_dB;
  let high = LARGEST_MATCH_dB;
  for (let i = 0; i < STEPS; i++) {
    const middle = 0.5 * (low + high);
    if (loudnessOf_sone(componentsOf(after, shift_dB + middle)) < wanted) low = middle;
    else high = middle;
  }
  const match_dB = 0.5 * (low + high);
  return {
    kind: 'match',
    match_dB,
    apart_LU: 0.5 * (high - low),
    by: 'loudness model',
    fair: Math.abs(match_dB) <= FAIR_MATCH_dB,
  };
}

interface Band {
  readonly frequency_Hz: number;
  readonly power: number;
}

function componentsOf(bands: readonly Band[], shift_dB: number): Component[] {
  return bands
    .filter(({ power }) => power > 0)
    .map(({ frequency_Hz, power }) => ({ frequency_Hz, level_dB: power_to_dB(power) + shift_dB }));
}

const FFT_LENGTH = 16384;

/** Power of the long-term spectrum in third octaves, both channels added; windows of 16384 samples, half overlapped. */
function bandPowers(signal: StereoSignal): Band[] {
  const spectrum = longTermSpectrum(signal);
  const bin_Hz = signal.sampleRate_Hz / FFT_LENGTH;
  return thirdOctaves_Hz(24, 12_900).map((frequency_Hz) => {
    const [from_Hz, to_Hz] = thirdOctaveEdges_Hz(frequency_Hz);
    let power = 0;
    for (let k = Math.ceil(from_Hz / bin_Hz); k < to_Hz / bin_Hz && k < spectrum.length; k++) power += spectrum[k]!;
    return { frequency_Hz, power };
  });
}

function longTermSpectrum({ left, right }: StereoSignal): Float64Array {
  const fft = new RealFft(FFT_LENGTH);
  const sum = new Float64Array(fft.binCount);
  const channels = left === right ? [left] : [left, right];
  for (const channel of channels) addSpectrum(channel, fft, sum, 2 / channels.length);
  return sum;
}

function addSpectrum(channel: Channel, fft: RealFft, sum: Float64Array, weight: number): void {
  const window = hannWindow(FFT_LENGTH);
  const block = new Float64Array(FFT_LENGTH);
  const re = new Float64Array(fft.binCount);
  const im = new Float64Array(fft.binCount);
  for (let at = 0; at < channel.length; at += FFT_LENGTH / 2) {
    for (let n = 0; n < FFT_LENGTH; n++) block[n] = window[n]! * (channel[at + n] ?? 0);
    fft.forward(block, re, im);
    for (let k = 0; k < fft.binCount; k++) sum[k]! += weight * (re[k]! * re[k]! + im[k]! * im[k]!);
  }
}
