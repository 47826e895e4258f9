import type { Stroke } from './drawing.js';
import { pathData } from './path-data.js';

/** A slanted cut in a stroke too tall (or too long) for its row: paper across it. */
export function breakMark(x: number, y: number, across: 'upright' | 'level'): Stroke {
  const path =
    across === 'upright' ? pathData.line(x - 4, y + 2, x + 4, y - 2) : pathData.line(x - 2, y + 4, x + 2, y - 4);
  return { path, ink: 'paper', width: 2.5 };
}
