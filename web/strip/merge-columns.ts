import { px_per_beat, type StripFrame } from './strip-frame.js';

/** Least and most of what falls into one column of pixels. */
export interface MergedColumn {
  readonly x: number;
  readonly least: number;
  readonly most: number;
  readonly count: number;
}

/** From this many pixels a beat down, hits and notes merge; or where they would stand closer than a column on the average. */
const MERGE_UNDER_px_per_beat = 4;
const COLUMN = 3;

/** Whether so many marks in sight are merged to the least and most of each column. */
export function isMerged(frame: StripFrame, count: number): boolean {
  return px_per_beat(frame) < MERGE_UNDER_px_per_beat || count * COLUMN > frame.width;
}

/**
 * Merges points into columns of even width, each with the least and most of its values, in rising x. Points that are out of
 * order are taken as they come.
 */
export function mergeColumns(points: readonly (readonly [x: number, value: number])[], width: number): MergedColumn[] {
  const columns = new Map<number, { least: number; most: number; count: number }>();
  for (const [x, value] of points) {
    const at = Math.floor(x / width);
    const column = columns.get(at);
    if (column === undefined) columns.set(at, { least: value, most: value, count: 1 });
    else {
      column.least = Math.min(column.least, value);
      column.most = Math.max(column.most, value);
      column.count += 1;
    }
  }
  return [...columns].sort(([a], [b]) => a - b).map(([at, column]) => ({ x: (at + 0.5) * width, ...column }));
}
