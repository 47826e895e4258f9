import type { HitClearance } from '../../core/measure/clearance.js';
import type { Drawing, Label } from '../marks/drawing.js';
import { CLEAR_dB } from '../marks/hit-mark.js';
import { pathData } from '../marks/path-data.js';
import { barAt, barStart_s, type BeatGrid } from './beat-grid.js';
import { barStep } from './bars-row.js';
import { mergeColumns } from './merge-columns.js';

const MOST_dB = 12;
const UP = 10;
const DOWN = 8;

/** The whole song in one line: clear hits stand up, covered ones hang down, bars numbered under it. */
export function wholeSongLine(
  hits: readonly HitClearance[],
  grid: BeatGrid | null,
  duration_s: number,
  width: number,
  line_y: number,
): Drawing {
  const x = (time_s: number): number => (time_s / duration_s) * width;
  const points = hits.flatMap(({ time_s, clearance_dB }): [number, number][] =>
    clearance_dB === null ? [] : [[x(time_s), clearance_dB]],
  );
  let clear = '';
  let covered = '';
  for (const column of mergeColumns(points, 2)) {
    if (column.most >= CLEAR_dB) {
      clear += pathData.upright(column.x, line_y, line_y - 2 - (UP - 2) * Math.min(1, column.most / MOST_dB));
    }
    if (column.least < CLEAR_dB) covered += pathData.upright(column.x, line_y, line_y + DOWN);
  }
  return {
    strokes: [
      { path: pathData.level(0, width, line_y), ink: 'rule-strong', width: 1 },
      { path: clear, ink: 'kick', width: 0.9 },
      { path: covered, ink: 'kick', width: 1.6 },
    ],
    labels: grid === null ? [] : barNumbers(grid, duration_s, width, line_y + DOWN + 12),
  };
}

function barNumbers(grid: BeatGrid, duration_s: number, width: number, y: number): Label[] {
  const bars = Math.max(1, barAt(grid, duration_s - 0.01));
  const step = barStep((0.45 * width) / bars);
  const labels: Label[] = [];
  for (let bar = 1; bar <= bars; bar += step) {
    const x = (barStart_s(grid, bar) / duration_s) * width;
    if (x < width - 12) labels.push({ x, y, text: String(bar), ink: 'ink-2', anchor: 'middle' });
  }
  return labels;
}
