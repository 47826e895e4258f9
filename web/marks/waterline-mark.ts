import { CLEAR_dB } from './hit-mark.js';
import type { Stroke } from './drawing.js';
import { pathData } from './path-data.js';

export interface WaterlinePlace {
  readonly left: number;
  readonly right: number;
  readonly zero_y: number;
  readonly bottom_y: number;
  readonly px_per_dB: number;
}

/**
 * The waterline: 0 dB, kick and bass are equals. Under it level hatching, the bass; 2 dB over it the tolerance, a fine line
 * with its ticks to the clear side.
 */
export function waterlineMark({ left, right, zero_y, bottom_y, px_per_dB }: WaterlinePlace): Stroke[] {
  const tolerance_y = zero_y - CLEAR_dB * px_per_dB;
  let hatch = '';
  for (let y = zero_y + 4; y <= bottom_y; y += 4) hatch += pathData.level(left, right, y);
  let ticks = pathData.level(left, right, tolerance_y);
  for (let x = left + 12; x < right; x += 24) ticks += pathData.upright(x, tolerance_y, tolerance_y - 2.5);
  return [
    { path: hatch, ink: 'bass', width: 1, hatch: true },
    { path: ticks, ink: 'rule-strong', width: 0.8 },
    { path: pathData.level(left, right, zero_y), ink: 'bass', width: 1.8 },
  ];
}
