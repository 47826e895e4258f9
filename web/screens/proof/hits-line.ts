import type { HitClearance } from '../../../core/measure/clearance.js';
import type { Drawing, Stroke } from '../../marks/drawing.js';
import { hitMark } from '../../marks/hit-mark.js';
import { waterlineMark } from '../../marks/waterline-mark.js';

const MOST_dB = 12;
const LEAST_dB = -5;
const LEFT = 4;

/** Every hit of the song on one waterline, from the left edge to the right. */
export function hitsLine(hits: readonly HitClearance[], duration_s: number, width: number, height: number): Drawing {
  const px_per_dB = height / (MOST_dB - LEAST_dB);
  const zero_y = MOST_dB * px_per_dB;
  const x = (time_s: number): number => LEFT + (time_s / Math.max(1, duration_s)) * (width - 2 * LEFT);
  const strokes: Stroke[] = hits.flatMap(({ time_s, clearance_dB, ghost }) =>
    clearance_dB === null || ghost
      ? []
      : hitMark({ x: x(time_s), clearance_dB, zero_y, px_per_dB, top_y: 0, bottom_y: height }).map((stroke) => ({
          ...stroke,
          width: stroke.width * 0.8,
        })),
  );
  return {
    strokes: [...waterlineMark({ left: 0, right: width, zero_y, bottom_y: height, px_per_dB }), ...strokes],
    labels: [],
  };
}

/** Hits that count and are under 2 dB, and how many of them are under 0 dB. */
export function coveredHits(hits: readonly HitClearance[]): { covered: number; sunk: number; counted: number } {
  const counted = hits.filter(({ clearance_dB, ghost }) => clearance_dB !== null && !ghost);
  return {
    counted: counted.length,
    covered: counted.filter(({ covered }) => covered).length,
    sunk: counted.filter(({ clearance_dB }) => clearance_dB! < 0).length,
  };
}
