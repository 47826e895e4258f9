import type { Note } from '../song/song.js';
import { dB_to_power } from '../units/decibels.js';
import { median } from '../units/statistics.js';
import type { PitchTrack } from './pitch-yin.js';

const FEWEST_NOTES = 6;
const LEAST_ODD_SHARE = 0.27;
const SHARE_OF_USUAL = 0.6;
const OCTAVE_UP_LOW = 1.94;
const OCTAVE_UP_HIGH = 2.06;
const END_CLEARANCE_S = 0.04;

/**
 * Notes read an octave too low. A driven string's wave may alternate from period to period: a true but slight component at half
 * the pitch. Such a note is told by three things together: its odd harmonics hold little of its power, much less than those of
 * the line's other notes (one instrument, one recipe), and a part of it was heard an octave up.
 */
export function octaveSlips(notes: readonly Note[], pitch: PitchTrack): Set<Note> {
  if (notes.length < FEWEST_NOTES) return new Set();
  const shares = notes.map(oddShare);
  const least = Math.min(LEAST_ODD_SHARE, SHARE_OF_USUAL * median(shares));
  return new Set(notes.filter((note, i) => shares[i]! < least && isPartlyHeardAnOctaveUp(note, pitch)));
}

/** Share of the power of harmonics 1..8 that lies in 1, 3, 5 and 7. */
function oddShare({ harmonics_dB }: Note): number {
  let odd = 0;
  let all = 0;
  harmonics_dB.forEach((level_dB, i) => {
    const power = dB_to_power(level_dB);
    all += power;
    if (i % 2 === 0) odd += power;
  });
  return odd / all;
}

function isPartlyHeardAnOctaveUp({ start_s, end_s, frequency_Hz }: Note, pitch: PitchTrack): boolean {
  const from = Math.ceil(start_s / pitch.hop_s);
  const to = Math.floor((end_s - END_CLEARANCE_S) / pitch.hop_s);
  return pitch.frequency_Hz
    .subarray(from, Math.max(from, to))
    .some((f) => f > OCTAVE_UP_LOW * frequency_Hz && f < OCTAVE_UP_HIGH * frequency_Hz);
}
