import type { EvennessNote } from '../../core/measure/evenness.js';
import type { Note } from '../../core/song/song.js';
import { nearestNote } from '../../core/units/notes.js';
import { overlaid, type Drawing, type Label } from '../marks/drawing.js';
import { ladderReach, ladderStrokesOf, LADDER_TOLERANCE_dB, penLadder } from '../marks/ladder-mark.js';
import { noteStrokes, penNote } from '../marks/note-mark.js';
import { pathData } from '../marks/path-data.js';
import { PathPen } from '../marks/path-pen.js';
import { isMerged, mergeColumns } from './merge-columns.js';
import { keptOnPaper, placeLabels } from './place-labels.js';
import { sayLevel } from './say-level.js';
import { staffLines, staffRange, type StaffLine } from './string-staff.js';
import { inSight, px_per_beat, px_per_s, type StripFrame } from './strip-frame.js';
import { x_of } from './strip-view.js';

/** A bass note with how far its level lies off the middle level of its pitch; null where it is not counted. */
export interface StaffNote extends Note {
  readonly deviation_dB: number | null;
}

/** The staff and everything on it, made once for a song. */
export interface Staff {
  readonly lines: readonly StaffLine[];
  readonly range_Hz: readonly [number, number];
  readonly notes: readonly StaffNote[];
  readonly longest_s: number;
}

const NAMES_FROM_px_per_beat = 60;
const COLUMN = 3;

export function staffOf(notes: readonly Note[], levels: readonly EvennessNote[]): Staff {
  const byStart = new Map(levels.map((level) => [level.start_s, level.deviation_dB]));
  const frequencies = notes.map(({ frequency_Hz }) => frequency_Hz);
  const lines = staffLines(frequencies);
  return {
    lines,
    range_Hz: staffRange(lines, frequencies),
    notes: notes.map((note) => ({ ...note, deviation_dB: byStart.get(note.start_s) ?? null })),
    longest_s: notes.reduce((longest, { start_s, end_s }) => Math.max(longest, end_s - start_s), 0),
  };
}

/** Where a pitch lies in the row: equal steps for equal intervals. Ladders need room at both edges. */
export function pitch_y(frame: StripFrame, { range_Hz: [low, high] }: Staff, frequency_Hz: number): number {
  const share = Math.log(frequency_Hz / low) / Math.log(high / low);
  return frame.top + frame.height - Math.max(0, Math.min(1, share)) * frame.height;
}

/** The bass's row: every note a hairline at its pitch with its ladder; merged to the lowest and highest pitch in sight. */
export function notesRow(staff: Staff, frame: StripFrame): Drawing {
  const strings = staff.lines.map(({ frequency_Hz }) =>
    pathData.level(0, frame.width, pitch_y(frame, staff, frequency_Hz)),
  );
  const seen = inSight(staff.notes, (note) => note.start_s, frame.view, staff.longest_s);
  const drawn = isMerged(frame, seen.length) ? mergedNotes(seen, staff, frame) : singleNotes(seen, staff, frame);
  return overlaid([{ strokes: [{ path: strings.join(''), ink: 'rule', width: 1 }], labels: [] }, drawn]);
}

function singleNotes(notes: readonly StaffNote[], staff: Staff, frame: StripFrame): Drawing {
  const pen = new PathPen();
  const ladders = new PathPen();
  const figures: Label[] = [];
  const names: Label[] = [];
  for (const note of notes) {
    const left = x_of(frame.view, frame.width, note.start_s);
    const right = Math.max(left + 2, x_of(frame.view, frame.width, note.end_s) - 1);
    const y = pitch_y(frame, staff, note.frequency_Hz);
    penNote(pen, { left, right, y, slide: slideOf(note, staff, frame) });
    const deviation = note.deviation_dB;
    if (deviation !== null) penLadder(ladders, left, y, deviation);
    if (deviation !== null && Math.abs(deviation) > LADDER_TOLERANCE_dB)
      figures.push(keptOnPaper(figureOf(deviation, left, y), left - 6, frame.width));
    if (px_per_beat(frame) >= NAMES_FROM_px_per_beat) names.push(nameOf(note, left, right, y));
  }
  return { strokes: [...noteStrokes(pen), ...ladderStrokesOf(ladders)], labels: placeLabels([...figures, ...names]) };
}

function figureOf(deviation_dB: number, x: number, y: number): Label {
  const reach = ladderReach(deviation_dB);
  return {
    x: x + 19,
    y: deviation_dB > 0 ? y - reach + 5 : y + reach + 3,
    text: sayLevel(deviation_dB),
    ink: 'bass',
    strong: true,
    halo: true,
  };
}

function nameOf(note: StaffNote, left: number, right: number, y: number): Label {
  const { name, cents } = nearestNote(note.frequency_Hz);
  const under = note.deviation_dB === null || note.deviation_dB > -1;
  const text = right - left > 70 ? `${name}, ${sayLevel(cents, 0)} cents` : name;
  return { x: right, y: under ? y + 12 : y - 5, text, ink: 'ink-2', anchor: 'end', halo: true };
}

function slideOf(note: StaffNote, staff: Staff, frame: StripFrame) {
  if (note.curve_Hz === null) return null;
  return {
    step: note.curveStep_s * px_per_s(frame),
    y: note.curve_Hz.map((frequency) => pitch_y(frame, staff, frequency)),
  };
}

function mergedNotes(notes: readonly StaffNote[], staff: Staff, frame: StripFrame): Drawing {
  const points = notes.map(({ start_s, frequency_Hz }): [number, number] => [
    x_of(frame.view, frame.width, start_s),
    frequency_Hz,
  ]);
  const pen = new PathPen();
  for (const { x, least, most } of mergeColumns(points, COLUMN)) {
    pen.level(x - COLUMN / 2, x + COLUMN / 2, pitch_y(frame, staff, least));
    if (most > least) pen.level(x - COLUMN / 2, x + COLUMN / 2, pitch_y(frame, staff, most));
  }
  return { strokes: noteStrokes(pen), labels: [] };
}
