import { nearestNote, midi_to_frequency, midi_to_name } from '../../core/units/notes.js';

/** One line of the staff: an open string. */
export interface StaffLine {
  readonly name: string;
  readonly frequency_Hz: number;
}

const E1 = 28;
const B0 = 23;
const FOUR_STRINGS = [28, 33, 38, 43];

/**
 * The open strings as lines: E1 A1 D2 G2; B0 is added where a lower note is played, the lowest line is tuned down where the
 * lowest note lies a tone or less under E1, and a bass that goes below B0 gets octaves of its lowest note.
 */
export function staffLines(frequencies_Hz: readonly number[]): StaffLine[] {
  if (frequencies_Hz.length === 0) return FOUR_STRINGS.map(lineAt);
  const lowest = nearestNote(Math.min(...frequencies_Hz)).midi;
  if (lowest >= E1) return FOUR_STRINGS.map(lineAt);
  if (lowest >= E1 - 2) return [lowest, ...FOUR_STRINGS.slice(1)].map(lineAt);
  if (lowest >= B0) return [B0, ...FOUR_STRINGS].map(lineAt);
  return [0, 1, 2, 3].map((octave) => lineAt(lowest + 12 * octave));
}

function lineAt(midi: number): StaffLine {
  return { name: midi_to_name(midi), frequency_Hz: midi_to_frequency(midi) };
}

/** Lowest and highest pitch that the staff shows, in Hz: its lines and all notes but stray ones over two octaves above. */
export function staffRange(lines: readonly StaffLine[], frequencies_Hz: readonly number[]): readonly [number, number] {
  const low = lines[0]!.frequency_Hz;
  const top = lines[lines.length - 1]!.frequency_Hz;
  const highest = Math.max(top, ...frequencies_Hz.filter((frequency) => frequency < 4 * top));
  return [low * SEMITONE_DOWN, highest * SEMITONE_UP];
}

const SEMITONE_DOWN = 0.92;
const SEMITONE_UP = 1.12;
