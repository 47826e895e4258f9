import { exp2, log2 } from './exact-math.js';

const NAMES = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'] as const;

/**
 * Equal-tempered notes: f = 440 * 2^((m - 69) / 12), A4 = 440 Hz (ISO 16:1975), middle C = C4 = 60.
 * @returns the fractional note number of a frequency in Hz (> 0).
 */
export function frequency_to_midi(frequency_Hz: number): number {
  return 69 + 12 * log2(frequency_Hz / 440);
}

export function midi_to_frequency(midi: number): number {
  return 440 * exp2((midi - 69) / 12);
}

/** @returns the name of a whole note number, `E1` for 28. */
export function midi_to_name(midi: number): string {
  const octave = Math.floor(midi / 12) - 1;
  return `${NAMES[midi - 12 * Math.floor(midi / 12)]!}${octave}`;
}

/** Distance from `from_Hz` up to `to_Hz` in cents. */
export function interval_cents(from_Hz: number, to_Hz: number): number {
  return 1200 * log2(to_Hz / from_Hz);
}

/** The nearest note and how far the frequency lies from it: `{ midi, name, cents }`, cents within -50..50. */
export function nearestNote(frequency_Hz: number): { midi: number; name: string; cents: number } {
  const exact = frequency_to_midi(frequency_Hz);
  const midi = Math.floor(exact + 0.5);
  return { midi, name: midi_to_name(midi), cents: (exact - midi) * 100 };
}
