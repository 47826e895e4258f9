import type { SeededRandom } from '../../core/units/seeded-random.js';

/** One note as the player meant it. */
export interface NoteTruth {
  readonly start_s: number;
  readonly end_s: number;
  readonly frequency_Hz: number;
  readonly gain: number;
  /** Glides from this pitch over `glide_s`; equal to frequency_Hz where it does not glide. */
  readonly from_Hz: number;
  readonly glide_s: number;
}

export const VOICES = ['pluck', 'round-pluck', 'organ', 'sub', 'saw', 'slow', 'driven', 'thin'] as const;
export type Voice = (typeof VOICES)[number];

interface VoiceRecipe {
  readonly harmonics: readonly number[];
  readonly attack_s: number;
  /** Time constant of the fundamental; harmonic h decays h^0.7 times as fast; Infinity = steady. */
  readonly decay_s: number;
  readonly drive: number;
}

const overHarmonics = (count: number, slope: number): number[] =>
  Array.from({ length: count }, (_, h) => 1 / (h + 1) ** slope);

const RECIPES: Record<Voice, VoiceRecipe> = {
  pluck: { harmonics: overHarmonics(24, 1), attack_s: 0.003, decay_s: 0.9, drive: 0 },
  'round-pluck': { harmonics: overHarmonics(6, 2), attack_s: 0.008, decay_s: 0.6, drive: 0 },
  organ: { harmonics: overHarmonics(8, 1.5), attack_s: 0.006, decay_s: Infinity, drive: 0 },
  sub: { harmonics: [1], attack_s: 0.005, decay_s: Infinity, drive: 0 },
  saw: { harmonics: overHarmonics(40, 1), attack_s: 0.002, decay_s: Infinity, drive: 0 },
  slow: { harmonics: overHarmonics(8, 1.5), attack_s: 0.06, decay_s: Infinity, drive: 0 },
  driven: { harmonics: overHarmonics(10, 1.2), attack_s: 0.003, decay_s: 0.9, drive: 4 },
  /** As through a high-pass: next to no fundamental. */
  thin: {
    harmonics: overHarmonics(16, 1).map((a, h) => (h === 0 ? 0.02 * a : h === 1 ? 0.4 * a : a)),
    attack_s: 0.003,
    decay_s: 0.8,
    drive: 0,
  },
};

/** A line of notes in one voice. Every note fades out over 3 ms before its end, and the voice is monophonic. */
export function bassLine(
  notes: readonly NoteTruth[],
  voice: Voice,
  sampleRate_Hz: number,
  length_s: number,
): Float64Array {
  const line = new Float64Array(Math.round(length_s * sampleRate_Hz));
  for (const note of notes) addNote(line, note, RECIPES[voice], sampleRate_Hz);
  return line;
}

function addNote(line: Float64Array, note: NoteTruth, recipe: VoiceRecipe, sampleRate_Hz: number): void {
  const { harmonics, attack_s, decay_s, drive } = recipe;
  const from = Math.round(note.start_s * sampleRate_Hz);
  const length_s = note.end_s - note.start_s;
  let phase = 0;
  for (let n = 0; n < length_s * sampleRate_Hz && from + n < line.length; n++) {
    const t = n / sampleRate_Hz;
    const share = note.glide_s > 0 ? Math.min(1, t / note.glide_s) : 1;
    const frequency = note.from_Hz * (note.frequency_Hz / note.from_Hz) ** share;
    phase += (2 * Math.PI * frequency) / sampleRate_Hz;
    let value = 0;
    for (let h = 1; h <= harmonics.length && h * frequency < 0.45 * sampleRate_Hz; h++) {
      value += harmonics[h - 1]! * Math.exp((-t * h ** 0.7) / decay_s) * Math.sin(h * phase + 0.7 * h * h);
    }
    if (drive > 0) value = Math.tanh(drive * value);
    const fade = Math.min(1, (t + 1 / sampleRate_Hz) / attack_s, Math.max(0, length_s - t) / 0.003);
    line[from + n]! += 0.25 * note.gain * value * fade;
  }
}

export interface LineShape {
  readonly tempo_bpm: number;
  readonly noteCount: number;
  readonly lowest_midi: number;
  readonly highest_midi: number;
  /** Lengths in sixteenths to draw from. */
  readonly lengths: readonly number[];
  readonly repeatShare: number;
  readonly restShare: number;
  readonly glideShare: number;
  /** Silence between one note's end and the next one's start. */
  readonly gap_ms: number;
  readonly gain_dB: number;
}

export const PLAIN_LINE: LineShape = {
  tempo_bpm: 110,
  noteCount: 40,
  lowest_midi: 28,
  highest_midi: 50,
  lengths: [1, 2, 2, 3, 4],
  repeatShare: 0.35,
  restShare: 0.15,
  glideShare: 0,
  gap_ms: 4,
  gain_dB: 3,
};

/** A seeded line on the grid of sixteenths: random walk, repeats, rests, glides. Starts at 0.2 s. */
export function randomLine(random: SeededRandom, shape: LineShape): NoteTruth[] {
  const sixteenth_s = 15 / shape.tempo_bpm;
  const notes: NoteTruth[] = [];
  let at = 0.2;
  let midi = shape.lowest_midi + random.below(shape.highest_midi - shape.lowest_midi + 1);
  while (notes.length < shape.noteCount) {
    if (random.uniform() < shape.restShare) at += sixteenth_s * (1 + random.below(3));
    if (random.uniform() >= shape.repeatShare) midi = nextPitch(random, midi, shape);
    const length_s = sixteenth_s * shape.lengths[random.below(shape.lengths.length)]!;
    const frequency_Hz = 440 * 2 ** ((midi - 69) / 12);
    const glides = random.uniform() < shape.glideShare && length_s > 0.25;
    notes.push({
      start_s: at,
      end_s: at + length_s - shape.gap_ms / 1000,
      frequency_Hz,
      gain: 10 ** (random.between(-shape.gain_dB, shape.gain_dB) / 20),
      from_Hz: glides ? frequency_Hz * 2 ** (-(2 + random.below(4)) / 12) : frequency_Hz,
      glide_s: glides ? 0.08 : 0,
    });
    at += length_s;
  }
  return notes;
}

function nextPitch(random: SeededRandom, midi: number, { lowest_midi, highest_midi }: LineShape): number {
  const step = (1 + random.below(7)) * (random.uniform() < 0.5 ? -1 : 1);
  const next = midi + step;
  return next < lowest_midi || next > highest_midi ? midi - step : next;
}
