import type { PenPath } from './path-pen.js';

/** Inks by name; the tokens give them their colour, light or dark. */
export type Ink =
  'ink' | 'ink-2' | 'ink-3' | 'kick' | 'bass' | 'wanted' | 'rule' | 'rule-strong' | 'paper' | 'band' | 'rest';

/** One stroke or filled shape in CSS pixels, drawn with one ink. */
export interface Stroke {
  /** SVG path data; empty where the path is a pen's. */
  readonly path: string;
  /** The path as a pen wrote it, where it has very many parts. */
  readonly pen?: PenPath;
  /** Ink of the line; null where only the shape is filled. */
  readonly ink: Ink | null;
  /** Width of the line as drawn on light paper; the dark draws it thinner. */
  readonly width: number;
  readonly fill?: Ink;
  readonly dash?: readonly number[];
  /** Hatching recedes: it takes the opacity of hatching of the paper it lies on. */
  readonly hatch?: boolean;
}

/** A word or figure on a drawing; x and y are the start (or middle, or end) of its baseline. */
export interface Label {
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly ink: Ink;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly strong?: boolean;
  /** Names of axes are set in the italic of the sentences. */
  readonly axis?: boolean;
  /** Drawn with a rim of paper, where it stands on strokes. */
  readonly halo?: boolean;
}

/** A place in a drawing that pointer and arrows can read. */
export interface Place {
  readonly x: number;
  readonly top: number;
  readonly bottom: number;
  /** What it reads, with numbers and units. */
  readonly says: string;
  /** Where in the song it is, if it is anywhere. */
  readonly time_s?: number;
}

/** Strokes and labels in the order in which they are drawn. */
export interface Drawing {
  readonly strokes: readonly Stroke[];
  readonly labels: readonly Label[];
  readonly places?: readonly Place[];
}

export const NOTHING_DRAWN: Drawing = { strokes: [], labels: [] };

/** Several drawings as one, the first lowest. */
export function overlaid(drawings: readonly Drawing[]): Drawing {
  return {
    strokes: drawings.flatMap(({ strokes }) => strokes),
    labels: drawings.flatMap(({ labels }) => labels),
    places: drawings.flatMap(({ places }) => places ?? []),
  };
}
