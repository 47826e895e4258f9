import type { Stroke } from './drawing.js';
import { pathData } from './path-data.js';

/** Where both claim the same place: uprights and levels cross, and a frame closes round. */
export function contestedMark(left: number, top: number, width: number, height: number): Stroke[] {
  let uprights = '';
  let levels = '';
  for (let x = left + 2; x < left + width; x += 4) uprights += pathData.upright(x, top, top + height);
  for (let y = top + 2; y < top + height; y += 3) levels += pathData.level(left, left + width, y);
  return [
    { path: uprights, ink: 'kick', width: 1.2 },
    { path: levels, ink: 'bass', width: 1.2 },
    { path: pathData.box(left, top, width, height), ink: 'kick', width: 1.2 },
  ];
}
