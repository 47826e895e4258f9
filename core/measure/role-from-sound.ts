import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';
import { sliceOf, type StereoSignal } from '../signal/stereo-signal.js';
import { amplitude_to_dB, power_to_dB } from '../units/decibels.js';
import { interval_cents } from '../units/notes.js';
import { valueOf, type Reading } from '../units/reading.js';
import { percentile } from '../units/statistics.js';
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
  /** Settled pitch of the hits; null where they have none. */
  readonly fundamental_Hz: number | null;
  /** How far it differs from hit to hit, 5 % to 95 %. */
  readonly fundamentalSpread_cents: number;
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
  const lows = filteredBothWays(
    samples,
    butterworthBandPass(2, 30, 200, sampleRate_Hz),
    Math.round(0.2 * sampleRate_Hz),
  );
  const pitch = pitchTrack(channel);
  const fundamental = kickFundamental(channel, hits);
  const sounding = soundingFrames(channel, pitch.hop_s);
  const frames = Array.from(pitch.frequency_Hz.keys()).filter((n) => sounding[n] === 1);
  const low = frames.map((n) => pitch.frequency_Hz[n]!).filter((f) => f > 0 && f < 200);
  const inHit = frames.filter((n) => hits.some((hit) => isWithin(n * pitch.hop_s - hit.time_s, -0.03, HIT_SPAN_S)));
  const peak = samples.reduce((largest, value) => Math.max(largest, Math.abs(value)), 0);
  return {
    lowShare: meanPower(lows) / power,
    hitShare: frames.length > 0 ? inHit.length / frames.length : 0,
    hitCount: hits.length,
    crest_dB: amplitude_to_dB(peak) - power_to_dB(power),
    lowVoicedShare: frames.length > 0 ? low.length / frames.length : 0,
    fundamental_Hz: valueOf(fundamental),
    fundamentalSpread_cents: spreadOf(fundamental),
  };
}

function spreadOf(fundamental: Reading): number {
  if (fundamental.kind !== 'figure' || fundamental.low === undefined || fundamental.high === undefined) return 0;
  return interval_cents(fundamental.low, fundamental.high);
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
    for (let n = from; n < from + span; n += 16)
      power += signal.left[n]! * signal.left[n]! + signal.right[n]! * signal.right[n]!;
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
  const least_dB =
    percentile(
      level_dB.filter((level) => level > -100),
      95,
    ) - SOUNDING_RANGE_DB;
  return Uint8Array.from(level_dB, (level) => (level >= least_dB ? 1 : 0));
}

function guessFrom(evidence: RoleEvidence): RoleGuess {
  const { lowShare, hitShare, lowVoicedShare, crest_dB, fundamental_Hz, fundamentalSpread_cents } = evidence;
  const sameEachTime = 1 - ramp(fundamentalSpread_cents, 150, 400);
  const drum = ramp(hitShare, 0.35, 0.5) * sameEachTime * (evidence.hitCount >= 2 ? 1 : 0.5);
  const settlesLow = fundamental_Hz === null ? 0.8 : 1 - ramp(fundamental_Hz, 78, 98);
  const kick = drum * settlesLow * ramp(lowShare, 0.4, 0.75) * ramp(crest_dB, 3, 6);
  const bass = ramp(lowVoicedShare, 0.35, 0.6) * ramp(lowShare, 0.02, 0.3) * (1 - drum);
  const rest = 1 - Math.max(kick, bass);
  const lows = `${(100 * lowShare).toFixed(0)} % of its energy in 30-200 Hz`;
  if (kick >= bass && kick >= rest) {
    return { role: 'kick', because: `It is made of ${evidence.hitCount} alike hits with ${lows}.`, confidence: kick };
  }
  if (bass >= rest) {
    const voiced = (100 * lowVoicedShare).toFixed(0);
    return { role: 'bass', because: `It has a pitch under 200 Hz ${voiced} % of the time.`, confidence: bass };
  }
  return { role: 'rest', because: `It is neither made of kick hits nor a low voice: ${lows}.`, confidence: rest };
}

/** 0 at `low` and under, 1 at `high` and over, a straight line between. */
function ramp(value: number, low: number, high: number): number {
  return clamp((value - low) / (high - low), 0, 1);
}
