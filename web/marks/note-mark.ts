import type { Stroke } from './drawing.js';
import { pathData } from './path-data.js';

export interface NotePlace {
  readonly left: number;
  readonly right: number;
  readonly y: number;
  /** Height at even steps from the start where the note slides. */
  readonly slide: { readonly step: number; readonly y: readonly number[] } | null;
}

/** A bass note: a hairline of constant weight at its pitch, with an end tick; a slide is a curved hairline. */
export function noteMark({ left, right, y, slide }: NotePlace): Stroke[] {
  const width = 1.4;
  if (slide === null || slide.y.length < 2) {
    return [{ path: pathData.level(left, right, y) + pathData.upright(right, y - 2.5, y + 2.5), ink: 'bass', width }];
  }
  const points = slide.y.map((at, i): [number, number] => [Math.min(right, left + i * slide.step), at]);
  const end = points[points.length - 1]!;
  if (end[0] < right) points.push([right, end[1]]);
  return [{ path: pathData.through(points) + pathData.upright(right, end[1] - 2.5, end[1] + 2.5), ink: 'bass', width }];
}
