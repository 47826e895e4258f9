import type { Drawing, Ink, Label, Stroke } from './drawing.js';

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
export function paintDrawing(canvas: CanvasRenderingContext2D, drawing: Drawing, paper: Paper): void {
  for (const stroke of drawing.strokes) paintStroke(canvas, stroke, paper);
  for (const label of drawing.labels) paintLabel(canvas, label, paper);
}

function paintStroke(canvas: CanvasRenderingContext2D, stroke: Stroke, paper: Paper): void {
  const path = new Path2D(stroke.path);
  canvas.globalAlpha = stroke.hatch ? paper.hatchOpacity : 1;
  if (stroke.fill !== undefined) {
    canvas.fillStyle = paper.colours[stroke.fill];
    canvas.fill(path);
  }
  if (stroke.ink !== null) {
    canvas.strokeStyle = paper.colours[stroke.ink];
    canvas.lineWidth = stroke.width * paper.lineScale;
    canvas.setLineDash(stroke.dash === undefined ? [] : [...stroke.dash]);
    canvas.stroke(path);
  }
  canvas.globalAlpha = 1;
}

function paintLabel(canvas: CanvasRenderingContext2D, label: Label, paper: Paper): void {
  canvas.font = label.axis
    ? `italic ${paper.weight} ${paper.axisFace}`
    : `${label.strong ? paper.strongWeight : paper.weight} ${paper.face}`;
  canvas.textAlign = label.anchor === 'middle' ? 'center' : (label.anchor ?? 'start');
  if (label.halo) {
    canvas.setLineDash([]);
    canvas.lineJoin = 'round';
    canvas.lineWidth = 3.5;
    canvas.strokeStyle = paper.colours.paper;
    canvas.strokeText(label.text, label.x, label.y);
  }
  canvas.fillStyle = paper.colours[label.ink];
  canvas.fillText(label.text, label.x, label.y);
}
