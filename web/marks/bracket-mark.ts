import type { Stroke } from './drawing.js';

/** What is wanted on an upright scale: a bracket over the length that meets the wish, open to the left. */
export function uprightBracket(x: number, top: number, bottom: number): Stroke {
  return { path: `M${x - 5} ${top}H${x}V${bottom}H${x - 5}`, ink: 'wanted', width: 1.6 };
}

/** What is wanted on a level scale: a bracket that lies over the length that meets the wish. */
export function levelBracket(left: number, right: number, y: number): Stroke {
  return { path: `M${left} ${y + 5}V${y}H${right}V${y + 5}`, ink: 'wanted', width: 1.6 };
}
