import type { Stroke } from './drawing.js';
import { pathData } from './path-data.js';

/** Where one is listening: a flag and a line. */
export function nowMark(x: number, top: number, bottom: number): Stroke[] {
  return [
    { path: `M${x - 5} ${top}h10l-5 7Z`, ink: null, width: 0, fill: 'ink' },
    { path: pathData.upright(x, top, bottom), ink: 'ink', width: 1.1 },
  ];
}
