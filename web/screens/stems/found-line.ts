import { COURSE_STEP_s, type LevelCourse } from '../../../core/measure/level-course.js';
import type { Drawing, Label } from '../../marks/drawing.js';
import { pathData } from '../../marks/path-data.js';
import { barStep } from '../../strip/bars-row.js';
import { barAt, barStart_s, clockText, type BeatGrid } from '../../strip/beat-grid.js';
import { mergeColumns } from '../../strip/merge-columns.js';
import type { FoundSong } from './found-song.js';
import { loudestOf } from './stem-bars.js';

const HITS_BASE = 22;
const NOTES_TOP = 30;
const NOTES_BASE = 62;
export const FOUND_HEIGHT = 80;
/** Under the loudest stroke of the kick by more than this nothing is drawn. */
const SHOWN_dB = 30;

/**
 * Every hit and note of the song as they were found, over the bars they are counted in: hits on a line with the kick's level
 * behind them, so that a stroke without a hit shows; notes at their pitch under it.
 */
export function foundLine(song: FoundSong, kick: readonly LevelCourse[], width: number): Drawing {
  const { grid, hits, duration_s, staff } = song;
  const x = (time_s: number): number => (time_s / duration_s) * width;
  const bars = grid === null ? { lines: '', labels: clockLabels(duration_s, width) } : barsOf(grid, duration_s, width);
  const found = mergeColumns(
    hits.map(({ time_s }): [number, number] => [x(time_s), 1]),
    2,
  )
    .map((column) => pathData.upright(column.x, HITS_BASE, HITS_BASE - 16))
    .join('');
  const [low, high] = staff.range_Hz;
  const y = (frequency_Hz: number): number =>
    NOTES_BASE -
    Math.max(0, Math.min(1, Math.log(frequency_Hz / low) / Math.log(high / low))) * (NOTES_BASE - NOTES_TOP);
  const notes = staff.notes
    .map(({ start_s, end_s, frequency_Hz }) =>
      pathData.level(x(start_s), Math.max(x(start_s) + 1, x(end_s) - 0.5), y(frequency_Hz)),
    )
    .join('');
  return {
    strokes: [
      { path: bars.lines, ink: 'rule', width: 1 },
      { path: pathData.level(0, width, HITS_BASE), ink: 'rule-strong', width: 1 },
      { path: kickLevel(kick, duration_s, width), ink: 'ink-3', width: 0.8 },
      { path: found, ink: 'kick', width: 1.2 },
      { path: notes, ink: 'bass', width: 1.4 },
    ],
    labels: bars.labels,
  };
}

/** The loudest of the kick's stems over time, hanging under the line of the hits. */
function kickLevel(kick: readonly LevelCourse[], duration_s: number, width: number): string {
  const loudest = kick.map(loudestOf);
  const apart = Math.max(1.5, (1.5 * COURSE_STEP_s * width) / duration_s);
  const points = kick.flatMap(({ level_dBFS, step_s }, k) =>
    [...level_dBFS].map((level, n): [number, number] => [
      ((n + 0.5) * step_s * width) / duration_s,
      level - loudest[k]!,
    ]),
  );
  const columns = mergeColumns(points, 1).filter(({ most }) => most > -SHOWN_dB);
  const runs: [number, number][][] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const { x, most } of columns) {
    if (x - last > apart) runs.push([[x, HITS_BASE + 1]]);
    runs.at(-1)!.push([x, HITS_BASE + 1 + 6 * (1 + most / SHOWN_dB)]);
    last = x;
  }
  return runs.map(pathData.through).join('');
}

function barsOf(grid: BeatGrid, duration_s: number, width: number): { lines: string; labels: Label[] } {
  const bars = Math.max(1, barAt(grid, duration_s - 0.01));
  const step = barStep(width / bars);
  const labels: Label[] = [];
  let lines = '';
  for (let bar = 1; bar <= bars; bar += step) {
    const x = (barStart_s(grid, bar) / duration_s) * width;
    if (x < 0) continue;
    lines += pathData.upright(x, 2, NOTES_BASE + 2);
    if (x < width - 12) labels.push({ x, y: FOUND_HEIGHT - 4, text: String(bar), ink: 'ink-2', anchor: 'middle' });
  }
  return { lines, labels };
}

function clockLabels(duration_s: number, width: number): Label[] {
  const step = duration_s > 120 ? 30 : 10;
  return Array.from({ length: Math.floor(duration_s / step) }, (_, i): Label => {
    const at = step * (i + 1);
    const text = clockText(at).replace(/\.0$/, '');
    return { x: (at / duration_s) * width, y: FOUND_HEIGHT - 4, text, ink: 'ink-2', anchor: 'middle' };
  });
}
