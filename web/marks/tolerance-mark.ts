import type { Stroke } from './drawing.js';
import { pathData } from './path-data.js';

/** A tolerance on a level scale: a shaded length with ticked ends. An end that lies outside the scale bears no tick. */
export function levelTolerance(
  left: number,
  right: number,
  y: number,
  height: number,
  ticks: { readonly left: boolean; readonly right: boolean },
): Stroke[] {
  const top = y - height / 2;
  const ends =
    (ticks.left ? pathData.upright(left, top, top + height) : '') +
    (ticks.right ? pathData.upright(right, top, top + height) : '');
  return [
    { path: pathData.box(left, top, right - left, height), ink: null, width: 0, fill: 'band' },
    { path: ends, ink: 'rule-strong', width: 1 },
  ];
}
