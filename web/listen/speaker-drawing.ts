import { powerResponse } from '../../core/dsp/biquad.js';
import { SMALL_SPEAKERS, type SpeakerId } from '../../core/measure/small-speakers.js';
import type { Drawing, Label, Stroke } from '../marks/drawing.js';
import type { NoteThrough } from './note-through.js';

const FROM_Hz = 30;
const TO_Hz = 2000;
const FLOOR_dB = -48;
const LOWEST_HEARD_dB = -42;
const RATE_Hz = 48_000;
const TICKS_Hz = [30, 60, 100, 200, 500, 1000, 2000];

/** The loudspeaker models as lines, the chosen one strong, and under it the harmonics of a note: dashed is not heard. */
export function speakerDrawing(
  chosen: SpeakerId | 'full range',
  note: NoteThrough | null,
  width: number,
  height: number,
): Drawing {
  const left = 34;
  const bottom = height - 18;
  const x = (f: number) => left + ((width - left - 8) * Math.log(f / FROM_Hz)) / Math.log(TO_Hz / FROM_Hz);
  const y = (level_dB: number) => 8 + ((bottom - 8) * Math.max(FLOOR_dB, level_dB)) / FLOOR_dB;
  const levels = [0, -12, -24, -36, -48];
  const strokes: Stroke[] = levels.map((level) => ({
    path: `M${left} ${y(level)}H${width - 8}`,
    ink: 'rule',
    width: 1,
  }));
  const names: Label[] = [];
  for (const { id, name, sections } of SMALL_SPEAKERS) {
    const path = lineOf((f) => 10 * Math.log10(powerResponse(sections(RATE_Hz), f, RATE_Hz)), x, y);
    strokes.push({ path, ink: id === chosen ? 'ink' : 'ink-3', width: id === chosen ? 2.4 : 1.1 });
    names.push(nameAt(id, name, x, y, id === chosen));
  }
  const count = note === null ? 0 : Math.max(note.harmonics_dB.length, note.heard.length);
  for (let h = 0; note !== null && h < count; h++) {
    const frequency_Hz = note.frequency_Hz * (h + 1);
    const heard = note.heard[h] === true;
    // what treatment has added is heard, although it was not there before: it stands low in the figure
    const level_dB = Math.max(note.harmonics_dB[h] ?? -Infinity, heard ? LOWEST_HEARD_dB : -Infinity);
    if (frequency_Hz > TO_Hz || level_dB < FLOOR_dB) continue;
    const path = `M${x(frequency_Hz)} ${bottom}V${y(level_dB)}`;
    strokes.push(heard ? { path, ink: 'bass', width: 3 } : { path, ink: 'bass', width: 1.5, dash: [2, 2] });
  }
  const dB = levels.map((level) => ({
    x: left - 6,
    y: y(level) + 4,
    text: level === 0 ? '0' : `−${-level}`,
    ink: 'ink-2' as const,
    anchor: 'end' as const,
  }));
  const hertz = TICKS_Hz.map((f) => ({
    x: x(f),
    y: height - 3,
    text: f < 1000 ? `${f}` : `${f / 1000}k`,
    ink: 'ink-2' as const,
    anchor: 'middle' as const,
  }));
  return { strokes, labels: [...dB, ...hertz, ...names] };
}

/** Where each line is named: a frequency and a level beside it, apart from the others. */
const NAMED_AT: Readonly<Record<SpeakerId, readonly [frequency_Hz: number, level_dB: number, side: 'start' | 'end']>> =
  {
    phone: [330, -25, 'start'],
    laptop: [66, -42, 'start'],
    earbud: [58, -29, 'start'],
    monoSpeaker: [31, -4, 'start'],
  };

function nameAt(
  id: SpeakerId,
  name: string,
  x: (f: number) => number,
  y: (level_dB: number) => number,
  strong: boolean,
): Label {
  const [frequency_Hz, level_dB, anchor] = NAMED_AT[id];
  return { x: x(frequency_Hz), y: y(level_dB), text: name, ink: strong ? 'ink' : 'ink-2', anchor, strong, halo: true };
}

function lineOf(level_dB: (f: number) => number, x: (f: number) => number, y: (level: number) => number): string {
  const points = Array.from({ length: 90 }, (_, i) => FROM_Hz * (TO_Hz / FROM_Hz) ** (i / 89));
  const inSight = points.filter((f) => level_dB(f) > FLOOR_dB);
  return inSight.map((f, i) => `${i === 0 ? 'M' : 'L'}${x(f).toFixed(1)} ${y(level_dB(f)).toFixed(1)}`).join('');
}
