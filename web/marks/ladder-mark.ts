import type { Stroke } from './drawing.js';
import type { PathPen } from './path-pen.js';

/** Off by more than this a note is out of tolerance, and its ladder bears its figure. */
export const LADDER_TOLERANCE_dB = 4;

const STEP = 3;
const CLEARANCE = 4;
const MOST_STROKES = 9;

/** How many strokes stand for a deviation: one for each whole dB, nine at most. */
export function ladderStrokes(deviation_dB: number): number {
  return Math.min(MOST_STROKES, Math.floor(Math.abs(deviation_dB) + 1e-9));
}

/** How far the ladder reaches from its note, in pixels. */
export function ladderReach(deviation_dB: number): number {
  const count = ladderStrokes(deviation_dB);
  return count === 0 ? 0 : CLEARANCE + (count - 1) * STEP;
}

/** Adds a note's level: short level strokes over it (or under it), one a dB, the fifth and later ones longer. */
export function penLadder(pen: PathPen, x: number, y: number, deviation_dB: number): void {
  const side = deviation_dB > 0 ? -1 : 1;
  for (let i = 0; i < ladderStrokes(deviation_dB); i++) {
    const length = i < LADDER_TOLERANCE_dB ? 9 : 15;
    pen.level(x + 1, x + 1 + length, y + side * (CLEARANCE + i * STEP));
  }
}

/** The ladders of a pen. */
export function ladderStrokesOf(pen: PathPen): Stroke[] {
  return [{ path: '', pen: pen.path, ink: 'bass', width: 1.1 }];
}
