import { midi_to_frequency } from '../units/notes.js';
import { PlainError } from '../units/plain-error.js';

/** What a number is read for: its unit, the value it may be changed from, and the song's tempo where there is one. */
export interface ValueContext {
  readonly unit: string;
  /** `+0.5` and `-3` are steps from here where `relative` is set. */
  readonly current?: number;
  /** True where a leading sign means a step from `current`; false where it is the sign of the value (levels in dB). */
  readonly relative?: boolean;
  readonly tempo_bpm?: number | null;
}

const SEMITONES: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };
const SCALES: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  Hz: { hz: 1, khz: 1000, k: 1000 },
  dB: { db: 1 },
  ms: { ms: 1, s: 1000 },
  s: { s: 1, ms: 0.001 },
  '%': { '%': 1 },
  oct: { oct: 1 },
};

/**
 * Reads a number the way it is said at a desk: `1.2k` and `F#1` are frequencies, `-3 dB`, `12 ms`, `0.1 s`, `1/16` of a whole
 * note at the song's tempo, `1/8.` dotted, `1/8t` triplet, `+0.5` a step from the present value where steps are meant. A comma
 * is a decimal point.
 * @throws PlainError where it cannot be read, or its unit is another.
 */
export function parseValue(text: string, context: ValueContext): number {
  const trimmed = text.trim().replace('\u2212', '-');
  const value = noteFrequency(trimmed, context) ?? noteLength(trimmed, context) ?? plainNumber(trimmed, context);
  if (value === null) {
    throw new PlainError(
      `"${text}"`,
      `It cannot be read as a value in ${context.unit || 'plain numbers'}.`,
      examples(context.unit),
    );
  }
  const steps = context.relative === true && context.current !== undefined && /^[+-]/.test(trimmed);
  return steps ? context.current + value : value;
}

function examples(unit: string): string {
  if (unit === 'Hz') return 'Write it like 80, 1.2k or F#1.';
  if (unit === 'ms' || unit === 's') return `Write it like 12 ${unit}, or 1/16 where the song has a tempo.`;
  return `Write it like 3${unit === '' ? '' : ` ${unit}`}.`;
}

/** `F#1`, `Bb0`: the equal-tempered frequency, A4 = 440 Hz, middle C = C4. */
function noteFrequency(text: string, { unit }: ValueContext): number | null {
  const match = unit === 'Hz' ? /^([A-Ga-g])([#b♯♭]?)(-?\d)$/u.exec(text) : null;
  if (match === null) return null;
  const sharp = match[2] === '#' || match[2] === '♯' ? 1 : match[2] === '' ? 0 : -1;
  return midi_to_frequency(12 * (Number(match[3]) + 1) + SEMITONES[match[1]!.toUpperCase()]! + sharp);
}

/** `1/16`: that share of a whole note of four beats, in the unit of time asked for. */
function noteLength(text: string, { unit, tempo_bpm }: ValueContext): number | null {
  const match = unit === 'ms' || unit === 's' ? /^1\/(\d{1,3})([.t]?)$/i.exec(text) : null;
  if (match === null || Number(match[1]) === 0) return null;
  if (tempo_bpm === undefined || tempo_bpm === null) {
    throw new PlainError(`"${text}"`, 'This song has no steady tempo.', `Give the time in ${unit}.`);
  }
  const longer = match[2] === '.' ? 1.5 : match[2] === '' ? 1 : 2 / 3;
  const time_s = (240 / tempo_bpm / Number(match[1])) * longer;
  return unit === 'ms' ? time_s * 1000 : time_s;
}

function plainNumber(text: string, { unit }: ValueContext): number | null {
  const match = /^([+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d{1,3})?)\s*(%|[a-z]*)$/i.exec(text);
  if (match === null) return null;
  const written = match[2]!.toLowerCase();
  const scale = written === '' ? 1 : (SCALES[unit]?.[written] ?? (written === unit.toLowerCase() ? 1 : null));
  if (scale === null) return null;
  const value = Number(match[1]!.replace(',', '.')) * scale;
  return Number.isFinite(value) ? value : null;
}

/** The text form of a value, which `parseValue` reads back: twelve digits at most, with its unit. */
export function formatValue(value: number, unit: string): string {
  return `${Number(value.toPrecision(12))}${unit === '' ? '' : ` ${unit}`}`;
}
