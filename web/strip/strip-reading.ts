import { sayFigure } from '../../core/findings/say-figure.js';
import { nearestNote } from '../../core/units/notes.js';
import { clockText, positionText } from './beat-grid.js';
import { bandMarginsAt, nominal_Hz } from './lows-row.js';
import type { StaffNote } from './notes-row.js';
import { sayLevel } from './say-level.js';
import { firstAtOrAfter } from './strip-frame.js';
import type { StripSong } from './strip-song.js';

/** What one place in the song reads, row by row; each line stands in the row's margin in place of its small print. */
export interface StripReading {
  readonly time_s: number;
  readonly place: readonly string[];
  readonly clearance: readonly string[];
  readonly notes: readonly string[];
  readonly lows: readonly string[];
}

/**
 * Reads the song at a time: the hit nearest to it within `reach_s`, the note that sounds, the lows of the hit (kick over bass).
 * Where a hit is in reach the reading stands on it exactly.
 */
export function readStrip(song: StripSong, time_s: number, reach_s: number): StripReading {
  const hit = nearestHit(song, time_s, reach_s);
  const at = hit === null ? time_s : song.hits[hit]!.time_s;
  const position = song.grid === null ? [] : [positionText(song.grid, at)];
  return {
    time_s: at,
    place: [...position, clockText(at)],
    clearance: hit === null ? [] : hitLines(song, hit),
    notes: noteLines(noteAt(song, hit === null ? at : at + 0.03)),
    lows: song.lows === null ? [] : lowsLines(song, hit),
  };
}

/** The reading as one sentence, for those who listen to the page. */
export function sayReading({ place, clearance, notes, lows }: StripReading): string {
  return [place, clearance, notes, lows]
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join(', '))
    .join('. ');
}

export function nearestHit({ hits }: StripSong, time_s: number, reach_s: number): number | null {
  const after = firstAtOrAfter(hits, (hit) => hit.time_s, time_s);
  const near = [after - 1, after]
    .filter((i) => hits[i] !== undefined)
    .sort((a, b) => Math.abs(hits[a]!.time_s - time_s) - Math.abs(hits[b]!.time_s - time_s))[0];
  return near !== undefined && Math.abs(hits[near]!.time_s - time_s) <= reach_s ? near : null;
}

export function noteAt({ staff }: StripSong, time_s: number): StaffNote | null {
  const last = firstAtOrAfter(staff.notes, (note) => note.start_s, time_s + 1e-6) - 1;
  const note = staff.notes[last];
  return note !== undefined && time_s < note.end_s ? note : null;
}

function hitLines({ hits, treated }: StripSong, index: number): string[] {
  const hit = hits[index]!;
  const level = hit.clearance_dB === null ? 'kick silent' : `${sayLevel(hit.clearance_dB)}\u00a0dB`;
  const after = treated?.[index]?.clearance_dB;
  return [
    level,
    ...(after === null || after === undefined ? [] : [`treated ${sayLevel(after)}\u00a0dB`]),
    `hit ${index + 1} of ${hits.length}${hit.ghost ? ', ghost' : ''}`,
  ];
}

function noteLines(note: StaffNote | null): string[] {
  if (note === null) return [];
  const level = sayFigure(note.level_dBFS, 'dBFS');
  const off = note.deviation_dB === null ? 'not counted' : `${sayLevel(note.deviation_dB)}\u00a0dB off`;
  return [`${nearestNote(note.frequency_Hz).name}, ${sayFigure(note.frequency_Hz, 'Hz')}`, level, off];
}

function lowsLines({ lows }: StripSong, hit: number | null): string[] {
  if (lows === null || hit === null) return [];
  return bandMarginsAt(lows, hit)
    .filter(({ counts }) => counts)
    .sort((a, b) => a.margin_dB - b.margin_dB)
    .slice(0, 2)
    .map(({ centre_Hz, margin_dB }) => `${nominal_Hz(centre_Hz)}\u00a0Hz ${sayLevel(margin_dB)}\u00a0dB`);
}
