import { breakMark } from './break-mark.js';
import type { Stroke } from './drawing.js';
import { pathData } from './path-data.js';

/** From here on a hit stands on the waterline solid; under it, it is hollow. */
export const CLEAR_dB = 2;

export interface HitPlace {
  readonly x: number;
  readonly clearance_dB: number;
  /** Where 0 dB lies. */
  readonly zero_y: number;
  readonly px_per_dB: number;
  /** Uprights end here; one that is taller is broken. */
  readonly top_y: number;
  readonly bottom_y: number;
}

/**
 * One kick hit on the waterline: 2 dB or more clear is a solid upright as tall as it is clear; under that it is thin with a
 * hollow head; under 0 dB sunk and dashed.
 */
export function hitMark({ x, clearance_dB, zero_y, px_per_dB, top_y, bottom_y }: HitPlace): Stroke[] {
  const head_y = Math.max(top_y, Math.min(bottom_y, zero_y - clearance_dB * px_per_dB));
  if (clearance_dB >= CLEAR_dB) {
    const broken = zero_y - clearance_dB * px_per_dB < top_y - 0.5;
    return [
      { path: pathData.upright(x, zero_y, head_y) + pathData.level(x - 3, x + 3, head_y), ink: 'kick', width: 2 },
      ...(broken ? [breakMark(x, head_y + 6, 'upright')] : []),
    ];
  }
  const sunk = clearance_dB < 0;
  const stem_y = sunk ? head_y - RADIUS : head_y + RADIUS;
  const reaches = Math.abs(head_y - zero_y) > RADIUS;
  return [
    ...(reaches
      ? [
          {
            path: pathData.upright(x, zero_y, stem_y),
            ink: 'kick' as const,
            width: 1.25,
            ...(sunk ? { dash: [2, 2] } : {}),
          },
        ]
      : []),
    { path: pathData.ring(x, head_y, RADIUS), ink: 'kick', width: 1.6, fill: 'paper' },
  ];
}

const RADIUS = 3.5;
