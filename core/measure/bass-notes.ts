import { hannWindow } from '../dsp/hann.js';
import { turningPhasor } from '../dsp/turning-phasor.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Hit, Note } from '../song/song.js';
import { power_to_dB } from '../units/decibels.js';
import { interval_cents } from '../units/notes.js';
import { median, percentile } from '../units/statistics.js';
import { analysisChannel, type AnalysisChannel } from './analysis-channel.js';
import { isOnHit, withoutKickBleed } from './kick-bleed.js';
import { levelTrack, type LevelTrack } from './level-track.js';
import { noteOnsets } from './note-onsets.js';
import { onsetStrength, type OnsetStrength } from './onset-strength.js';
import { periodBreaks } from './period-breaks.js';
import { octaveSlips } from './octave-slips.js';
import { pitchTrack, type PitchTrack } from './pitch-yin.js';

const HARMONICS = 8;
const NOTHING_DB = -120;
const SHORTEST_NOTE_S = 0.04;
const END_DROP_DB = 30;
const SLIDE_CENTS = 100;
const MISSING_UNDER_DB = 15;
/** A note this far under the usual one that begins on a kick hit, in a rest, is the kick. */
const BLEED_UNDER_DB = 12;

/** What is followed through a bass stem before its notes are told apart; it needs no hits. */
export interface BassTracks {
  readonly channel: AnalysisChannel;
  readonly pitch: PitchTrack;
  readonly strength: OnsetStrength;
}

/** The dear part of finding notes. */
export function bassTracks(bass: StereoSignal): BassTracks {
  const channel = analysisChannel(bass);
  return { channel, pitch: pitchTrack(channel), strength: onsetStrength(channel) };
}

/**
 * Finds every note of a bass stem: onsets, then the pitch, end, level and harmonics of each.
 * @param hits the kick's hits, so that kick bleed in the bass is not taken for notes.
 * @param tracks those of the bass, where they are at hand.
 * @returns notes in order of time; none for silence.
 */
export function findBassNotes(bass: StereoSignal, hits: readonly Hit[], tracks: BassTracks = bassTracks(bass)): Note[] {
  const { channel, pitch, strength } = tracks;
  const level = levelTrack(channel.samples, channel.sampleRate_Hz, { step_s: 0.005, span_s: 0.03, trailing: false });
  const top_dB = percentile(level.level_dB, 95);
  if (top_dB < -100) return [];
  const candidates = noteOnsets(strength, periodBreaks(channel, pitch), pitch);
  const onsets = withoutKickBleed(candidates, hits, channel, pitch);
  const spans = onsets.map((onset, i) => ({
    start_s: onset.time_s,
    end_s: endOf(level, onset.time_s, onsets[i + 1]?.time_s ?? Infinity, top_dB),
  }));
  const heard = spans.map((span) => noteOf(span, bass, channel, pitch)).filter((note) => note !== null);
  const slipped = octaveSlips(heard, pitch);
  const notes = heard.map((note) =>
    slipped.has(note) ? (noteOf(note, bass, channel, pitch, 2 * note.frequency_Hz) ?? note) : note,
  );
  const usual_dB = median(notes.map((note) => note.level_dBFS));
  return notes.filter((note) => note.level_dBFS > usual_dB - BLEED_UNDER_DB || !isOnHit(note.start_s, hits));
}

interface Span {
  readonly start_s: number;
  readonly end_s: number;
}

/** Where the note has fallen 30 dB under its own peak (or 45 under the song's loud level), or the next one begins. */
function endOf({ level_dB, step_s }: LevelTrack, start_s: number, next_s: number, top_dB: number): number {
  const from = Math.round(start_s / step_s);
  const to = Math.min(level_dB.length, Math.round(next_s / step_s));
  let peak_dB = -Infinity;
  for (let n = from; n < to; n++) {
    peak_dB = Math.max(peak_dB, level_dB[n]!);
    const grown = (n - from) * step_s > 0.08;
    if (grown && level_dB[n]! < Math.max(peak_dB - END_DROP_DB, top_dB - 45)) return n * step_s;
  }
  return to * step_s;
}

function noteOf(
  span: Span,
  bass: StereoSignal,
  channel: AnalysisChannel,
  pitch: PitchTrack,
  known_Hz?: number,
): Note | null {
  if (span.end_s - span.start_s < SHORTEST_NOTE_S) return null;
  const frequency_Hz = known_Hz ?? pitchOf(span, pitch);
  if (frequency_Hz === null) return null;
  const level_dBFS = levelOf(span, bass);
  const levels_dBFS = harmonicLevels(span, channel, frequency_Hz);
  const strongest = Math.max(...levels_dBFS);
  const curve_Hz = known_Hz === undefined ? slideOf(span, pitch) : null;
  return {
    start_s: span.start_s,
    end_s: span.end_s,
    frequency_Hz,
    level_dBFS,
    harmonics_dB: levels_dBFS.map((level) =>
      strongest > NOTHING_DB ? Math.max(NOTHING_DB, level - strongest) : NOTHING_DB,
    ),
    fundamentalMissing: levels_dBFS[0]! < level_dBFS - MISSING_UNDER_DB,
    curve_Hz,
    curveStep_s: pitch.hop_s,
  };
}

function voicedWithin(span: Span, from_s: number, to_s: number, { frequency_Hz, hop_s }: PitchTrack): number[] {
  const voiced: number[] = [];
  const last = Math.min(span.end_s, span.start_s + to_s);
  for (let n = Math.ceil((span.start_s + from_s) / hop_s); n * hop_s <= last && n < frequency_Hz.length; n++) {
    if (frequency_Hz[n]! > 0) voiced.push(frequency_Hz[n]!);
  }
  return voiced;
}

function pitchOf(span: Span, pitch: PitchTrack): number | null {
  const voiced = voicedWithin(span, 0.03, 0.3, pitch);
  return voiced.length >= 2 ? median(voiced) : null;
}

/** Mean square 30 ms after the onset to min(250 ms, end - 20 ms), mean of the two channels: a full-scale sine reads -3.01. */
function levelOf(span: Span, { left, right, sampleRate_Hz }: StereoSignal): number {
  const from = Math.round((span.start_s + 0.03) * sampleRate_Hz);
  const wanted = Math.min(span.start_s + 0.25, span.end_s - 0.02);
  const to = Math.min(left.length, Math.max(from + 1, Math.round(wanted * sampleRate_Hz)));
  let power = 0;
  for (let n = from; n < to; n++) power += left[n]! * left[n]! + right[n]! * right[n]!;
  return power_to_dB(Math.max(1e-20, power / (2 * Math.max(1, to - from))));
}

/** Level of each harmonic in dBFS: one Fourier line at h times the pitch, Hann, over the note's first 350 ms. */
function harmonicLevels(span: Span, { samples, sampleRate_Hz }: AnalysisChannel, frequency_Hz: number): number[] {
  const from = Math.round((span.start_s + 0.03) * sampleRate_Hz);
  const to = Math.min(samples.length, Math.round(Math.min(span.start_s + 0.35, span.end_s - 0.02) * sampleRate_Hz));
  const count = to - from;
  if (count * frequency_Hz < 2 * sampleRate_Hz) return shortNoteLevels();
  const windowed = hannWindow(count);
  for (let n = 0; n < count; n++) windowed[n]! *= samples[from + n]!;
  const cos = new Float64Array(count);
  const sin = new Float64Array(count);
  const levels: number[] = [];
  for (let h = 1; h <= HARMONICS; h++) {
    const cycles = (h * frequency_Hz) / sampleRate_Hz;
    let re = 0;
    let im = 0;
    if (cycles < 0.45) turningPhasor(0, cycles, count, cos, sin);
    for (let n = 0; n < count && cycles < 0.45; n++) {
      re += windowed[n]! * cos[n]!;
      im += windowed[n]! * sin[n]!;
    }
    const amplitude2 = (16 * (re * re + im * im)) / (count * count);
    levels.push(amplitude2 > 2e-12 ? power_to_dB(amplitude2 / 2) : NOTHING_DB);
  }
  return levels;
}

/** Two periods at least are needed to tell harmonics apart. */
function shortNoteLevels(): number[] {
  return Array.from({ length: HARMONICS }, () => NOTHING_DB);
}

/** The pitch over time where it moves by more than a semitone, else null. */
function slideOf(span: Span, pitch: PitchTrack): number[] | null {
  const voiced = voicedWithin(span, 0.03, Infinity, pitch);
  if (voiced.length < 8) return null;
  const low = percentile(voiced, 10);
  const high = percentile(voiced, 90);
  if (interval_cents(low, high) <= SLIDE_CENTS) return null;
  const curve: number[] = [];
  let last = voiced[0]!;
  for (let t = span.start_s; t < span.end_s; t += pitch.hop_s) {
    const here = pitch.frequency_Hz[Math.round(t / pitch.hop_s)] ?? 0;
    if (here > 0) last = here;
    curve.push(last);
  }
  return curve;
}
