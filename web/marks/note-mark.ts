import type { Stroke } from './drawing.js';
import type { PathPen } from './path-pen.js';

export interface NotePlace {
  readonly left: number;
  readonly right: number;
  readonly y: number;
  /** Height at even steps from the start where the note slides. */
  readonly slide: { readonly step: number; readonly y: readonly number[] } | null;
}

const TICK = 2.5;

/** Adds a bass note: a hairline of constant weight at its pitch, with an end tick; a slide is a curved hairline. */
export function penNote(pen: PathPen, { left, right, y, slide }: NotePlace): void {
  if (slide === null || slide.y.length < 2) {
    pen.level(left, right, y);
    pen.upright(right, y - TICK, y + TICK);
    return;
  }
  const points = slide.y.flatMap((at, i) => [Math.min(right, left + i * slide.step), at]);
  const end_y = points.at(-1)!;
  if (points.at(-2)! < right) points.push(right, end_y);
  pen.through(points);
  pen.upright(right, end_y - TICK, end_y + TICK);
}

/** The notes of a pen. */
export function noteStrokes(pen: PathPen): Stroke[] {
  return [{ path: '', pen: pen.path, ink: 'bass', width: 1.4 }];
}
