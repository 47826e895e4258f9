import type { Note } from '../song/song.js';
import { dB_to_power, power_to_dB } from '../units/decibels.js';
import { nearestNote } from '../units/notes.js';
import { figure, unmeasurable, type Reading, type Unmeasurable } from '../units/reading.js';
import { percentile } from '../units/statistics.js';
import { bootstrapOfValues } from './bootstrap.js';
import { sixtyPhonWeighting_dB } from './equal-loudness.js';
import { evennessOf, type Evenness, type PitchEvenness } from './evenness-of-levels.js';
import { laneLevelsOf } from './note-lanes.js';
import { NoteSpectrum } from './note-spectrum.js';
import { meanSquareOf, noteWindow, SHORTEST_COUNTED_s, type FrameRange } from './note-window.js';
import type { Knowledge, SongSound } from './song-sound.js';
import type { StereoSignal } from '../signal/stereo-signal.js';

/** One bass note as it is in this state of the song. Levels are 10 lg of mean square over 30..250 ms, unweighted. */
export interface EvennessNote {
  readonly start_s: number;
  readonly end_s: number;
  readonly frequency_Hz: number;
  readonly midi: number;
  readonly name: string;
  /** Null where the note is silent or too short to be measured. */
  readonly level_dBFS: number | null;
  /** Level less the line through the pitches; null where the note is not counted. */
  readonly deviation_dB: number | null;
  /** The 60-phon weighted level less its median over the notes. */
  readonly asHeard_dB: number | null;
  readonly counted: boolean;
}

/** A pitch with its lanes: what of its deviation lies below and above 300 Hz. */
export interface EvennessPitch extends PitchEvenness {
  readonly lowLaneDeviation_dB: number;
  readonly highLaneDeviation_dB: number;
  readonly starts_s: readonly number[];
}

export interface EvennessMeasure {
  readonly kind: 'measured';
  /** P90 - P10 of the levels of the counted notes. */
  readonly spread_dB: Reading;
  /** The same spread under the 60-phon weighting of ISO 226:2023: evidence only. */
  readonly asHeard_dB: Reading;
  /** Share of counted notes more than 4 dB off the line, 0..1. */
  readonly shareBeyond4dB: Reading;
  /** The largest |median deviation| among the pitches with notes enough to judge. */
  readonly pitchDeviation_dB: Reading;
  /** Robust scatter of the notes about their own pitch's median: the player's touch. */
  readonly scatter_dB: number;
  /** Level on the line at 55 Hz, and its slope. */
  readonly lineAt55Hz_dBFS: number;
  readonly lineSlope_dB_per_oct: number;
  readonly countedNotes: number;
  readonly notes: readonly EvennessNote[];
  /** By rising pitch. */
  readonly pitches: readonly EvennessPitch[];
}

const WINDOW_s = 0.25;
const FEWEST_NOTES = 3;

export function measureEvenness(sound: SongSound, known: Knowledge): EvennessMeasure | Unmeasurable {
  const { bass } = sound;
  if (bass === null) return unmeasurable('no bass among the stems');
  if (known.notes.length === 0) return unmeasurable('no bass note found');
  const windows = known.notes.map((note) => noteWindow(note, WINDOW_s, bass));
  const levels = windows.map((range) => levelOf(bass, range));
  const counted = indicesOf(known.notes, (note, i) => isCounted(note) && levels[i] !== null);
  if (counted.length < FEWEST_NOTES) {
    return unmeasurable(`only ${counted.length} bass notes of 100 ms or more sound, too few to compare`);
  }
  const heard = heardLevels(bass, windows, counted);
  const frequencies = counted.map((i) => known.notes[i]!.frequency_Hz);
  const evenness = evennessOf(
    counted.map((i) => levels[i]!),
    frequencies,
  );
  const lanes = laneLevelsOf(
    bass,
    counted.map((i) => windows[i]!),
  );
  return {
    kind: 'measured',
    ...readingsOf(
      evenness,
      counted.map((i) => levels[i]!),
      heard,
    ),
    scatter_dB: evenness.scatter_dB,
    lineAt55Hz_dBFS: evenness.lineAt55Hz_dBFS,
    lineSlope_dB_per_oct: evenness.lineSlope_dB_per_oct,
    countedNotes: counted.length,
    notes: noteRows(known.notes, levels, counted, evenness, heard),
    pitches: pitchRows(
      evenness,
      evennessOf(lanes.low_dBFS, frequencies),
      evennessOf(lanes.high_dBFS, frequencies),
      counted.map((i) => known.notes[i]!.start_s),
    ),
  };
}

function levelOf(bass: StereoSignal, range: FrameRange | null): number | null {
  const power = range === null ? 0 : meanSquareOf(bass, range);
  return power > 0 ? power_to_dB(power) : null;
}

function isCounted(note: Note): boolean {
  return note.end_s - note.start_s >= SHORTEST_COUNTED_s;
}

function indicesOf(notes: readonly Note[], holds: (note: Note, i: number) => boolean): number[] {
  return notes.map((_, i) => i).filter((i) => holds(notes[i]!, i));
}

/** 60-phon weighted levels of the counted notes. */
function heardLevels(
  bass: StereoSignal,
  windows: readonly (FrameRange | null)[],
  counted: readonly number[],
): number[] {
  const spectrum = new NoteSpectrum(bass.sampleRate_Hz, WINDOW_s);
  const weights = Float64Array.from({ length: spectrum.binCount }, (_, k) =>
    k === 0 ? 0 : dB_to_power(sixtyPhonWeighting_dB(k * spectrum.bin_Hz)),
  );
  return counted.map((i) => {
    const power = spectrum.take(bass, windows[i]!);
    let sum = 0;
    for (let k = 1; k < power.length; k++) sum += power[k]! * weights[k]!;
    return power_to_dB(sum / 2);
  });
}

function readingsOf(evenness: Evenness, levels: readonly number[], heard: readonly number[]) {
  const beyond = evenness.deviations_dB.map((d) => (Math.abs(d) > 4 ? 1 : 0));
  const worst = evenness.pitches.filter((pitch) => pitch.judged).map((pitch) => Math.abs(pitch.median_dB));
  return {
    spread_dB: figure(evenness.spread_dB, bootstrapOfValues(levels, spreadOf)),
    asHeard_dB: figure(spreadOf(heard), bootstrapOfValues(heard, spreadOf)),
    shareBeyond4dB: figure(evenness.shareBeyond4dB, bootstrapOfValues(beyond, meanOf)),
    pitchDeviation_dB:
      worst.length > 0 ? figure(Math.max(...worst)) : unmeasurable('no pitch is played often enough to judge'),
  };
}

function spreadOf(levels: ArrayLike<number>): number {
  return percentile(levels, 90) - percentile(levels, 10);
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function noteRows(
  notes: readonly Note[],
  levels: readonly (number | null)[],
  counted: readonly number[],
  evenness: Evenness,
  heard: readonly number[],
): EvennessNote[] {
  const middle = percentile(heard, 50);
  return notes.map((note, i) => {
    const place = counted.indexOf(i);
    const { midi, name } = nearestNote(note.frequency_Hz);
    return {
      start_s: note.start_s,
      end_s: note.end_s,
      frequency_Hz: note.frequency_Hz,
      midi,
      name,
      level_dBFS: levels[i]!,
      deviation_dB: place < 0 ? null : evenness.deviations_dB[place]!,
      asHeard_dB: place < 0 ? null : heard[place]! - middle,
      counted: place >= 0,
    };
  });
}

function pitchRows(whole: Evenness, low: Evenness, high: Evenness, starts_s: readonly number[]): EvennessPitch[] {
  return whole.pitches.map((pitch, p) => ({
    ...pitch,
    lowLaneDeviation_dB: low.pitches[p]!.median_dB,
    highLaneDeviation_dB: high.pitches[p]!.median_dB,
    starts_s: pitch.members.map((i) => starts_s[i]!),
  }));
}
