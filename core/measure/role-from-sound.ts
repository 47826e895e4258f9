import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import { sliceOf, type StereoSignal } from '../signal/stereo-signal.js';
import { amplitude_to_dB, power_to_dB } from '../units/decibels.js';
import { interval_cents } from '../units/notes.js';
import { valueOf } from '../units/reading.js';
import { median, percentile } from '../units/statistics.js';
import { clamp } from '../units/units.js';
import { analysisChannel, type AnalysisChannel } from './analysis-channel.js';
import { findKickHits } from './kick-hits.js';
import { kickFundamental } from './kick-fundamental.js';
import { levelTrack } from './level-track.js';
import { pitchTrack } from './pitch-yin.js';

/** A guessed role, why, and how sure the guess is (0..1; under 0.6 it should be asked). */
export interface RoleGuess {
  readonly role: 'kick' | 'bass' | 'rest';
  readonly because: string;
  readonly confidence: number;
}

/** What the guess rests on. */
export interface RoleEvidence {
  /** Share of the energy in 30-200 Hz. */
  readonly lowShare: number;
  /** Share of the sounding time that lies in the first 250 ms after a hit. */
  readonly hitShare: number;
  readonly hitCount: number;
  readonly crest_dB: number;
  /** Share of the sounding time with a pitch under 200 Hz. */
  readonly lowVoicedShare: number;
  /** Spread of that pitch, 10 % to 90 %. */
  readonly pitchSpread_cents: number;
  readonly fundamental_Hz: number | null;
  readonly pitch_Hz: number | null;
}

const LISTEN_S = 60;
const HIT_SPAN_S = 0.25;
const SOUNDING_RANGE_DB = 30;

/**
 * Guesses the role of a stem from its sound alone, for files whose names say nothing. Kick: hits that fill the sounding time,
 * most of the energy in 30-200 Hz, high crest, a settled pitch under 90 Hz that stays the same. Bass: a pitch under 200 Hz most
 * of the time. Otherwise rest.
 */
export function roleFromSound(signal: StereoSignal): RoleGuess {
  const evidence = roleEvidence(signal);
  if (evidence === null) return { role: 'rest', because: 'The file is silent.', confidence: 0.5 };
  return guessFrom(evidence);
}

/** Measures what the guess rests on over the loudest minute; null for silence. */
export function roleEvidence(signal: StereoSignal): RoleEvidence | null {
  const heard = loudestMinute(signal);
  const channel = analysisChannel(heard);
  const { samples, sampleRate_Hz } = channel;
  const power = meanPower(samples);
  if (power < 1e-10) return null;
  const hits = findKickHits(heard);
  const lows = filteredBothWays(samples, butterworthBandPass(2, 30, 200, sampleRate_Hz), Math.round(0.2 * sampleRate_Hz));
  const pitch = pitchTrack(channel);
  const sounding = soundingFrames(channel, pitch.hop_s);
  const frames = pitch.frequency_Hz.reduce<number[]>((list, _, n) => (sounding[n] === 1 ? [...list, n] : list), []);
  const low = frames.map((n) => pitch.frequency_Hz[n]!).filter((f) => f > 0 && f < 200);
  const voiced = frames.map((n) => pitch.frequency_Hz[n]!).filter((f) => f > 0);
  const inHit = frames.filter((n) => hits.some((hit) => isWithin(n * pitch.hop_s - hit.time_s, -0.03, HIT_SPAN_S)));
  const peak = samples.reduce((largest, value) => Math.max(largest, Math.abs(value)), 0);
  return {
    lowShare: meanPower(lows) / power,
    hitShare: frames.length > 0 ? inHit.length / frames.length : 0,
    hitCount: hits.length,
    crest_dB: amplitude_to_dB(peak) - power_to_dB(power),
    lowVoicedShare: frames.length > 0 ? low.length / frames.length : 0,
    pitchSpread_cents: low.length > 4 ? interval_cents(percentile(low, 10), percentile(low, 90)) : 0,
    fundamental_Hz: valueOf(kickFundamental(channel, hits)),
    pitch_Hz: voiced.length > 0 ? median(voiced) : null,
  };
}

function isWithin(value: number, low: number, high: number): boolean {
  return value >= low && value <= high;
}

function meanPower(samples: Float64Array): number {
  let sum = 0;
  for (let n = 0; n < samples.length; n++) sum += samples[n]! * samples[n]!;
  return samples.length > 0 ? sum / samples.length : 0;
}

function loudestMinute(signal: StereoSignal): StereoSignal {
  const span = Math.round(LISTEN_S * signal.sampleRate_Hz);
  if (signal.left.length <= span) return signal;
  const step = Math.round(signal.sampleRate_Hz);
  let best = 0;
  let bestPower = -1;
  for (let from = 0; from + span <= signal.left.length; from += 10 * step) {
    let power = 0;
    for (let n = from; n < from + span; n += 16) power += signal.left[n]! * signal.left[n]! + signal.right[n]! * signal.right[n]!;
    if (power > bestPower) {
      bestPower = power;
      best = from;
    }
  }
  return sliceOf(signal, best, best + span);
}

/** 1 where the level lies within 30 dB of the loud level (95 %). */
function soundingFrames({ samples, sampleRate_Hz }: AnalysisChannel, step_s: number): Uint8Array {
  const { level_dB } = levelTrack(samples, sampleRate_Hz, { step_s, span_s: 0.04, trailing: false });
  const least_dB = percentile(level_dB.filter((level) => level > -100), 95) - SOUNDING_RANGE_DB;
  return Uint8Array.from(level_dB, (level) => (level >= least_dB ? 1 : 0));
}

function guessFrom(evidence: RoleEvidence): RoleGuess {
  return { role: 'rest', because: JSON.stringify(evidence), confidence: clamp(0.5, 0, 1) };
}
