import { isMono, midOf, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { unmeasurable, type Unmeasurable } from '../units/reading.js';
import { CrossSpectrum, type WhitenedPeak } from './cross-spectrum.js';
import { onsetDistance, type OnsetDistance } from './onset-distance.js';
import type { Knowledge, SongSound, Track } from './song-sound.js';
import { thirdOctaveEdges_Hz, thirdOctaves_Hz } from './third-octaves.js';

/** How the two files add in one third octave, relative to the sum of their powers. */
export interface BandSum {
  readonly centre_Hz: number;
  readonly now_dB: number;
  readonly aligned_dB: number;
}

/** What delay and polarity stand on: the whitened correlation, or (unlike sounds) only the distance of the onsets. */
export interface MeasuredAlignment {
  readonly kind: 'measured';
  readonly method: 'correlation' | 'onsets';
  /** The file behind (positive) or ahead of the reference. */
  readonly delay_ms: number;
  /** -1 where the file is upside down; always 1 by the onsets alone. */
  readonly polarity: 1 | -1;
  /** Energy of the sum in 40-200 Hz, corrected over uncorrected, dB. */
  readonly correctingGain_dB: number;
  /** A further shift within +-0.5 ms that adds 0.3 dB or more there; 0 where none does. */
  readonly nudge_ms: number;
  readonly nudgeGain_dB: number;
  readonly bands: readonly BandSum[];
}

/** How one file of a role stands in time and polarity to the first file of that role. */
export interface TrackAlignment {
  readonly role: 'kick' | 'bass';
  readonly reference: string;
  readonly file: string;
  readonly result: MeasuredAlignment | Unmeasurable;
  /** The whitened correlation's peak, accepted or not; null where the files are silent or too short. */
  readonly correlation: WhitenedPeak | null;
  /** Power-weighted magnitude-squared coherence in 40-300 Hz, 0..1; null as above. */
  readonly coherence: number | null;
  /** Median over hits or notes of the distance between the 10 % points of the two onsets; null where they do not agree. */
  readonly onsets: OnsetDistance | null;
}

/** When the correlation is believed (quality: second peak over first). Own values, measured for this project. */
export const ALIGNMENT = {
  reach_ms: 12,
  largestQuality: 0.6,
  leastCoherence: 0.7,
  /** Correlation and onsets must agree within this. */
  onsetsAgreeWithin_ms: 1,
  /** On bass, a peak this clear stands without the onsets: soft onsets through a loudspeaker say little. */
  clearQuality: 0.3,
  nudge_ms: 0.5,
  leastNudgeGain_dB: 0.3,
} as const;

/**
 * Time and polarity among the files of one role, each against the first. Whitened cross-spectrum weighted by coherence^4,
 * 60-2000 Hz (C. H. Knapp, G. C. Carter, "The Generalized Correlation Method for Estimation of Time Delay", IEEE TASSP 24(4),
 * 1976): the sharpest peak within +-12 ms gives delay and polarity. Sounds that differ (two drums layered on one hit) give no
 * such peak: there only the distance of the onsets is told, and polarity is never turned.
 */
export function measureTrackAlignments(sound: SongSound, known: Knowledge): TrackAlignment[] {
  const hitTimes = known.hits.map((hit) => hit.time_s);
  const noteTimes = known.notes.map((note) => note.start_s);
  return [...alignmentsOf('kick', sound.tracks.kick, hitTimes), ...alignmentsOf('bass', sound.tracks.bass, noteTimes)];
}

function alignmentsOf(
  role: 'kick' | 'bass',
  tracks: readonly Track[],
  onsetTimes_s: readonly number[],
): TrackAlignment[] {
  const [first, ...others] = tracks;
  if (first === undefined || others.length === 0) return [];
  const reference = midChannel(first.signal);
  return others.map((track) => {
    const place = { role, reference: first.file, file: track.file };
    return {
      ...place,
      ...alignmentOf(role, reference, midChannel(track.signal), track.signal.sampleRate_Hz, onsetTimes_s),
    };
  });
}

/** A mono track is its own mid: a whole copy of it is saved. */
function midChannel(signal: StereoSignal): Channel {
  return isMono(signal) ? signal.left : midOf(signal);
}

type Alignment = Omit<TrackAlignment, 'role' | 'reference' | 'file'>;

function alignmentOf(
  role: 'kick' | 'bass',
  reference: Channel,
  samples: Channel,
  sampleRate_Hz: number,
  onsetTimes_s: readonly number[],
): Alignment {
  const cross = CrossSpectrum.of(reference, samples, sampleRate_Hz);
  if (cross === null) {
    return { result: unmeasurable('shorter than a second'), correlation: null, coherence: null, onsets: null };
  }
  const coherence = cross.coherence(40, 300);
  if (coherence === null) {
    return { result: unmeasurable('one of the two is silent in the lows'), correlation: null, coherence, onsets: null };
  }
  const correlation = cross.whitenedPeak(60, 2000, ALIGNMENT.reach_ms);
  const onsets = onsetDistance(reference, samples, sampleRate_Hz, onsetTimes_s);
  return { result: judged(role, cross, correlation, coherence, onsets), correlation, coherence, onsets };
}

function judged(
  role: 'kick' | 'bass',
  cross: CrossSpectrum,
  correlation: WhitenedPeak,
  coherence: number,
  onsets: OnsetDistance | null,
): MeasuredAlignment | Unmeasurable {
  const believed = correlation.quality <= ALIGNMENT.largestQuality && coherence >= ALIGNMENT.leastCoherence;
  const clearBass = role === 'bass' && correlation.quality <= ALIGNMENT.clearQuality;
  const agreed =
    onsets === null || Math.abs(onsets.distance_ms - correlation.delay_ms) <= ALIGNMENT.onsetsAgreeWithin_ms;
  if (believed && (agreed || clearBass)) {
    return measuredAt(cross, 'correlation', correlation.delay_ms, correlation.polarity);
  }
  if (onsets !== null) return measuredAt(cross, 'onsets', onsets.distance_ms, 1);
  return unmeasurable('the two sounds differ too much, and their onsets keep no one distance');
}

function measuredAt(
  cross: CrossSpectrum,
  method: 'correlation' | 'onsets',
  delay_ms: number,
  polarity: 1 | -1,
): MeasuredAlignment {
  const gainAt = (shift_ms: number): number => cross.correctedGain_dB(40, 200, delay_ms + shift_ms, polarity);
  const correctingGain_dB = gainAt(0);
  let nudge_ms = 0;
  for (let step = -25; step <= 25; step++) {
    const shift_ms = (step * ALIGNMENT.nudge_ms) / 25;
    if (gainAt(shift_ms) > gainAt(nudge_ms)) nudge_ms = shift_ms;
  }
  const nudgeGain_dB = gainAt(nudge_ms) - correctingGain_dB;
  const nudged = nudgeGain_dB >= ALIGNMENT.leastNudgeGain_dB;
  return {
    kind: 'measured',
    method,
    delay_ms,
    polarity,
    correctingGain_dB,
    nudge_ms: nudged ? nudge_ms : 0,
    nudgeGain_dB: nudged ? nudgeGain_dB : 0,
    bands: bandSums(cross, delay_ms, polarity),
  };
}

function bandSums(cross: CrossSpectrum, delay_ms: number, polarity: 1 | -1): BandSum[] {
  return thirdOctaves_Hz(39, 510).flatMap((centre_Hz) => {
    const [low_Hz, high_Hz] = thirdOctaveEdges_Hz(centre_Hz);
    const now_dB = cross.sum_dB(low_Hz, high_Hz, 0, 1);
    const aligned_dB = cross.sum_dB(low_Hz, high_Hz, delay_ms, polarity);
    return now_dB === null || aligned_dB === null ? [] : [{ centre_Hz, now_dB, aligned_dB }];
  });
}
