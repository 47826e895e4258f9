import type { Drawing } from './drawing.js';
import { pathData } from './path-data.js';

/** An arrowed length with its figure; the figure stands behind its right end, or before its left end near the edge. */
export function dimensionMark(left: number, right: number, y: number, text: string, edge: number): Drawing {
  const arrows =
    pathData.through([
      [left + 4, y - 3],
      [left, y],
      [left + 4, y + 3],
    ]) +
    pathData.through([
      [right - 4, y - 3],
      [right, y],
      [right - 4, y + 3],
    ]);
  const ends = pathData.upright(left, y - 4, y + 4) + pathData.upright(right, y - 4, y + 4);
  const after = right + 6 + 5.6 * text.length < edge;
  return {
    strokes: [{ path: pathData.level(left, right, y) + arrows + ends, ink: 'ink', width: 1.1 }],
    labels: [
      { x: after ? right + 6 : left - 6, y: y + 4, text, ink: 'ink', anchor: after ? 'start' : 'end', halo: true },
    ],
  };
}
