import type { Drawing, Ink, Stroke } from './drawing.js';
import { fillStraight, tracePen } from './path-pen.js';
import type { Stamps } from './stamps.js';

/** What a canvas needs to know of the paper: colours by ink, faces, how strongly lines and hatching are drawn. */
export interface Paper {
  readonly colours: Readonly<Record<Ink, string>>;
  readonly face: string;
  readonly axisFace: string;
  readonly weight: string;
  readonly strongWeight: string;
  readonly lineScale: number;
  readonly hatchOpacity: number;
}

const INKS: readonly Ink[] = [
  'ink',
  'ink-2',
  'ink-3',
  'kick',
  'bass',
  'wanted',
  'rule',
  'rule-strong',
  'paper',
  'band',
  'rest',
];

/** Reads the paper from the tokens where an element stands. */
export function paperOf(element: Element): Paper {
  const style = getComputedStyle(element);
  const token = (name: string): string => style.getPropertyValue(`--${name}`).trim();
  return {
    colours: Object.fromEntries(INKS.map((ink) => [ink, token(ink)])) as Record<Ink, string>,
    face: `${token('text-figure')} ${token('sans')}`,
    axisFace: `${token('text-note')} ${token('serif')}`,
    weight: token('weight'),
    strongWeight: token('weight-strong'),
    lineScale: Number.parseFloat(token('line')) / 1.5,
    hatchOpacity: Number.parseFloat(token('hatch-opacity')),
  };
}

/** Draws strokes, then labels, on a canvas whose unit is a CSS pixel. */
export function paintDrawing(
  canvas: CanvasRenderingContext2D,
  { strokes, labels }: Drawing,
  paper: Paper,
  stamps: Stamps,
): void {
  for (const stroke of strokes) if (!stamps.shapes(canvas, stroke)) paintStroke(canvas, stroke, paper);
  for (const label of labels) stamps.label(canvas, label);
}

function paintStroke(canvas: CanvasRenderingContext2D, stroke: Stroke, paper: Paper): void {
  if (stroke.pen?.length === 0) return;
  canvas.globalAlpha = stroke.hatch ? paper.hatchOpacity : 1;
  if (stroke.pen !== undefined && stroke.ink !== null && stroke.fill === undefined) {
    canvas.fillStyle = paper.colours[stroke.ink];
    if (fillStraight(canvas, stroke.pen, stroke.width * paper.lineScale, stroke.dash)) return;
  }
  canvas.beginPath();
  if (stroke.pen !== undefined) tracePen(canvas, stroke.pen);
  const data = stroke.path === '' ? undefined : new Path2D(stroke.path);
  if (stroke.fill !== undefined) {
    canvas.fillStyle = paper.colours[stroke.fill];
    if (data === undefined) canvas.fill();
    else canvas.fill(data);
  }
  if (stroke.ink !== null) {
    canvas.strokeStyle = paper.colours[stroke.ink];
    canvas.lineWidth = stroke.width * paper.lineScale;
    canvas.setLineDash(stroke.dash === undefined ? [] : [...stroke.dash]);
    if (data === undefined) canvas.stroke();
    else canvas.stroke(data);
  }
  canvas.globalAlpha = 1;
}
