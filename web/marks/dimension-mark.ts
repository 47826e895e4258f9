import type { Drawing, Label } from './drawing.js';
import { pathData } from './path-data.js';

/**
 * An arrowed length with its figure: behind its right end, or before its left end near the edge, or over it where neither side has
 * the room.
 */
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
  return {
    strokes: [{ path: pathData.level(left, right, y) + arrows + ends, ink: 'ink', width: 1.1 }],
    labels: [labelOf(left, right, y, text, edge)],
  };
}

const WIDTH_PER_CHARACTER = 5.6;
/** Scales stand left of this. */
const LEFT_EDGE = 40;

function labelOf(left: number, right: number, y: number, text: string, edge: number): Label {
  const width = WIDTH_PER_CHARACTER * text.length;
  const label = { text, ink: 'ink', halo: true } as const;
  if (right + 6 + width < edge) return { ...label, x: right + 6, y: y + 4, anchor: 'start' };
  if (left - 6 - width > LEFT_EDGE) return { ...label, x: left - 6, y: y + 4, anchor: 'end' };
  const middle = Math.max(LEFT_EDGE + width / 2, Math.min(edge - width / 2, (left + right) / 2));
  return { ...label, x: middle, y: y - 7, anchor: 'middle' };
}
