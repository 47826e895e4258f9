import { NOTHING_DRAWN, type Drawing } from '../marks/drawing.js';
import { barsRow } from './bars-row.js';
import { clearanceRow } from './clearance-row.js';
import { lowsRow } from './lows-row.js';
import { notesRow } from './notes-row.js';
import type { StripFrame } from './strip-frame.js';
import type { StripLayout, StripRow } from './strip-rows.js';
import type { StripSong } from './strip-song.js';
import type { StripView } from './strip-view.js';

/** Everything in sight of the strip, row by row. */
export function stripScene(song: StripSong, layout: StripLayout, view: StripView, width: number): (() => Drawing)[] {
  return layout.rows.map((row) => () => rowDrawing(song, layout, row, { view, width, beat_s: song.beat_s, ...row }));
}

function rowDrawing(song: StripSong, layout: StripLayout, { id }: StripRow, frame: StripFrame): Drawing {
  if (id === 'bars') return barsRow(song.grid, frame, layout.height);
  if (id === 'clearance') {
    return song.noClearance === null
      ? clearanceRow(song.hits, frame, song.scale, song.treated)
      : notMeasured(song.noClearance, frame);
  }
  if (id === 'notes') return song.noNotes === null ? notesRow(song.staff, frame) : notMeasured(song.noNotes, frame);
  return song.lows === null ? NOTHING_DRAWN : lowsRow(song.lows, song.hits, frame, layout.bandsShown);
}

/** An open row with the reason in words. */
function notMeasured(reason: string, { top, height }: StripFrame): Drawing {
  return {
    strokes: [],
    labels: [{ x: 8, y: top + height / 2 + 4, text: `Not measured: ${reason}.`, ink: 'ink-2', halo: true }],
  };
}
