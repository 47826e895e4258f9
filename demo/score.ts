import { SeededRandom } from '../core/units/seeded-random.js';

/**
 * "Weir at First Light": the song as written, 92 bpm, 4/4, A minor, twelve bars and a last chord. Two verses of four bars, a lift
 * of four. A bar has sixteen steps. Drum lines: `X` accent, `x` plain, `o` ghost, `.` rest, `O` open hat.
 */
export const TEMPO_BPM = 92;
export const STEP_S = 60 / TEMPO_BPM / 4;
export const BAR_S = 16 * STEP_S;
/** The count before bar 1. */
export const LEAD_IN_S = 0.5;
export const BAR_COUNT = 12;
export const SONG_LENGTH_S = 35;

export interface Stroke {
  readonly time_s: number;
  /** 0..1. */
  readonly velocity: number;
  readonly step: number;
  readonly bar: number;
  readonly mark: string;
}

export interface BassNote {
  readonly start_s: number;
  readonly length_s: number;
  readonly midi: number;
  /** The player's touch against an even one, dB. */
  readonly touch_dB: number;
  readonly ghost: boolean;
  readonly slideFrom_semitones: number;
}

export interface Chord {
  readonly start_s: number;
  readonly length_s: number;
  readonly midis: readonly number[];
  readonly velocity: number;
}

const KICK = [
  'X.x....x..X.....',
  'X.x.......X..x..',
  'X.....x...X.....',
  'X.....x...X..x..',
  'X.x....x..X.....',
  'X.x.......X..x..',
  'X.....x...X.....',
  'X.....x...X.....',
  'X..x....X.x.....',
  'X..x....X.x..x..',
  'X..x....X.x.....',
  'X..x....X.x.....',
];

const SNARE = [
  '....X..o.o..X...',
  '....X..o....X..o',
  '....X..o.o..X...',
  '....X..o....X.oo',
  '....X..o.o..X...',
  '....X..o....X..o',
  '....X..o.o..X...',
  '....X..o.x.xX.xX',
  '....X..o....X..o',
  '....X..o.o..X...',
  '....X..o....X..o',
  '....X..oX.xxX.xX',
];

const HAT = [
  'x.o.x.o.x.o.x.o.',
  'x.o.x.oox.o.x.O.',
  'x.o.x.o.x.o.x.o.',
  'x.o.x.oox.o.x.oo',
  'x.o.x.o.x.o.x.o.',
  'x.o.x.oox.o.x.O.',
  'x.o.x.o.x.o.x.o.',
  'x.o.x.o.x.......',
  'XoxoXoxoXoxoXoxo',
  'XoxoXoxoXoxoXoO.',
  'XoxoXoxoXoxoXoxo',
  'XoxoXoo.........',
];

/** Ride and crash: `c` is a crash. */
const CRASH_BARS = [8, 12];

/** [step, length in steps, note, mark]: `g` a ghost, `s` slid into from two semitones below, `S` from a fourth above. */
type Written = readonly [number, number, number, string?];

const E1 = 28;
const A1 = 33;
const D2 = 38;
const E2 = 40;
const F2 = 41;
const FS2 = 42;
const G2 = 43;
const A2 = 45;

const BASS: readonly (readonly Written[])[] = [
  [
    [0, 2.7, A1],
    [3, 0.5, A1, 'g'],
    [6, 1.6, G2],
    [10, 2.5, A1],
    [14, 1.5, E2],
  ],
  [
    [0, 2.7, A1],
    [4, 1.4, A2],
    [6, 1.6, G2],
    [10, 1.8, A1],
    [12, 0.9, A1],
    [13, 0.9, E2],
    [14, 1.6, G2],
  ],
  [
    [0, 3.2, D2],
    [4, 0.5, D2, 'g'],
    [6, 1.6, A2],
    [10, 1.8, D2],
    [12, 1.5, FS2],
    [14, 1.5, E2],
  ],
  [
    [0, 3.4, E1],
    [6, 1.7, G2],
    [8, 1.4, E2],
    [10, 2.4, E1],
    [13, 0.9, D2],
    [14, 1.6, G2, 's'],
  ],
  [
    [0, 2.7, A1],
    [3, 0.5, A1, 'g'],
    [6, 1.6, G2],
    [10, 1.8, A1],
    [12, 0.9, A1],
    [14, 1.6, E2],
  ],
  [
    [0, 2.7, A1],
    [4, 1.4, A2],
    [6, 1.6, G2],
    [10, 2.5, A1],
    [13, 0.9, E2],
    [14, 1.6, A2],
  ],
  [
    [0, 3.2, D2],
    [4, 0.5, D2, 'g'],
    [6, 1.6, A2],
    [10, 1.8, D2],
    [12, 1.5, FS2],
    [14, 1.5, E2],
  ],
  [
    [0, 3.4, E1],
    [6, 1.7, G2],
    [8, 1.4, E2],
    [10, 1.6, E1],
    [12, 1.5, D2],
    [14, 1.8, A2, 'S'],
  ],
  [
    [0, 1.8, F2],
    [2, 0.8, F2],
    [3, 1.8, F2],
    [6, 1.6, A2],
    [8, 1.7, F2],
    [10, 1.7, F2],
    [12, 1.6, A2],
    [14, 1.6, G2],
  ],
  [
    [0, 1.8, G2],
    [2, 0.8, D2],
    [3, 1.8, D2],
    [6, 1.6, D2],
    [8, 1.7, G2],
    [10, 1.7, D2],
    [13, 0.9, A2],
    [14, 1.6, G2],
  ],
  [
    [0, 1.8, E1],
    [2, 0.8, E1],
    [3, 1.8, E1],
    [6, 1.6, G2],
    [8, 1.7, E1],
    [10, 1.7, E1],
    [12, 1.6, D2],
    [14, 1.6, E2],
  ],
  [
    [0, 1.8, F2],
    [2, 0.8, F2],
    [3, 1.8, F2],
    [6, 1.6, A2],
    [8, 1.7, D2],
    [10, 1.7, D2],
    [12, 1.6, E2],
    [14, 1.6, G2],
  ],
  [[0, 11, A1]],
];

const CHORDS: readonly (readonly number[])[] = [
  [57, 60, 64, 67],
  [57, 60, 64, 71],
  [57, 60, 66, 72],
  [59, 62, 64, 67],
  [57, 60, 64, 67],
  [57, 60, 64, 71],
  [57, 60, 66, 72],
  [59, 62, 67, 69],
  [60, 64, 69, 76],
  [59, 62, 69, 74],
  [59, 64, 67, 74],
  [60, 65, 69, 76],
  [57, 64, 67, 71, 76],
];

/** Where the keys fall in a bar: [step, length in steps, velocity]. */
const COMPING: readonly (readonly [number, number, number])[] = [
  [0, 5.5, 0.72],
  [7, 1.2, 0.5],
  [10, 4.5, 0.62],
];

const LIFT_COMPING: readonly (readonly [number, number, number])[] = [
  [0, 2.6, 0.85],
  [3, 4.4, 0.75],
  [8, 1.6, 0.7],
  [11, 4.4, 0.78],
];

function timeOf(bar: number, step: number): number {
  // a light shuffle: every second sixteenth leans back by 7 % of a step
  return LEAD_IN_S + bar * BAR_S + (step + (step % 2 === 1 ? 0.07 : 0)) * STEP_S;
}

function strokesOf(lines: readonly string[], seed: number, lean_s: number, scatter_s: number): Stroke[] {
  const random = new SeededRandom(seed);
  const strokes: Stroke[] = [];
  lines.forEach((line, bar) => {
    for (let step = 0; step < 16; step++) {
      const mark = line[step]!;
      if (mark === '.') continue;
      const level = mark === 'X' || mark === 'O' ? 0.94 : mark === 'x' ? 0.72 : 0.3;
      strokes.push({
        time_s: timeOf(bar, step) + lean_s + scatter_s * random.normal(),
        velocity: Math.min(1, level * (1 + 0.06 * random.normal())),
        step,
        bar,
        mark,
      });
    }
  });
  return strokes;
}

const LAST_BAR = 'X...............';

export function kickStrokes(): Stroke[] {
  const strong = [...KICK, LAST_BAR].map((line) => line.replace(/x/g, 'K'));
  return strokesOf(strong, 11, 0, 0.002).map((stroke) => ({
    ...stroke,
    velocity: stroke.mark === 'K' ? Math.min(1, stroke.velocity + 0.52) : stroke.velocity,
  }));
}

export function snareStrokes(): Stroke[] {
  return strokesOf(SNARE, 12, 0.006, 0.003);
}

export function hatStrokes(): Stroke[] {
  return strokesOf(HAT, 13, 0.001, 0.003);
}

export function crashStrokes(): Stroke[] {
  const random = new SeededRandom(14);
  return CRASH_BARS.map((bar) => ({
    time_s: timeOf(bar, 0) + 0.003 * random.normal(),
    velocity: 0.8,
    step: 0,
    bar,
    mark: 'c',
  }));
}

export function bassNotes(): BassNote[] {
  const random = new SeededRandom(15);
  const notes: BassNote[] = [];
  BASS.forEach((bar, index) => {
    for (const [step, length, midi, mark] of bar) {
      notes.push({
        start_s: timeOf(index, step) + 0.004 + 0.003 * random.normal(),
        length_s: length * STEP_S,
        midi,
        touch_dB: (midi === A1 ? 1.6 : step === 0 ? 0.4 : 0) + 0.55 * random.normal(),
        ghost: mark === 'g',
        slideFrom_semitones: mark === 's' ? -2 : mark === 'S' ? 5 : 0,
      });
    }
  });
  return withoutOverlap(notes);
}

/** A finger stops the string a moment before it plucks the next note. */
function withoutOverlap(notes: readonly BassNote[]): BassNote[] {
  return notes.map((note, i) => {
    const next = notes[i + 1];
    const room_s = next === undefined ? Infinity : next.start_s - note.start_s - 0.028;
    return { ...note, length_s: Math.min(note.length_s, room_s) };
  });
}

export function keysChords(): Chord[] {
  const random = new SeededRandom(16);
  const chords: Chord[] = [];
  CHORDS.forEach((midis, bar) => {
    const comping = bar === BAR_COUNT ? [[0, 20, 0.8] as const] : bar >= 8 ? LIFT_COMPING : COMPING;
    for (const [step, length, velocity] of comping) {
      chords.push({
        start_s: timeOf(bar, step) + 0.004 * random.normal(),
        length_s: length * STEP_S,
        midis,
        velocity: velocity * (1 + 0.06 * random.normal()),
      });
    }
  });
  return chords;
}

/** Muted guitar: verse two picks on off-beats, the lift strums eighths. */
export function guitarStrokes(): Stroke[] {
  const lines = CHORDS.map((_, bar) => {
    if (bar < 4) return bar === 3 ? '..............xx' : '................';
    if (bar < 8) return '..X..o..X..X..o.';
    return bar === BAR_COUNT ? 'X...............' : 'x.Xox.X.x.Xox.Xo';
  });
  return strokesOf(lines, 17, 0.003, 0.004);
}

export function guitarNotesOf(bar: number): readonly number[] {
  return CHORDS[bar]!.slice(1).map((midi) => (midi < 62 ? midi + 12 : midi));
}
