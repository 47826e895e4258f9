/** A path as numbers, for pictures of thousands of strokes: an operation, then its coordinates, in turn. */
export type PenPath = readonly number[];

const MOVE = 0;
const LINE = 1;
const RING = 2;
const DIAMOND = 3;

/** What a pen path is drawn on: a canvas, or anything that has its verbs. */
export type PenTarget = Pick<CanvasRenderingContext2D, 'moveTo' | 'lineTo' | 'arc' | 'closePath'>;

/** Gathers one path of many parts, without a string in between. Coordinates are CSS pixels. */
export class PathPen {
  readonly path: number[] = [];

  level(x1: number, x2: number, y: number): void {
    this.path.push(MOVE, x1, y, LINE, x2, y);
  }

  upright(x: number, y1: number, y2: number): void {
    this.path.push(MOVE, x, y1, LINE, x, y2);
  }

  line(x1: number, y1: number, x2: number, y2: number): void {
    this.path.push(MOVE, x1, y1, LINE, x2, y2);
  }

  ring(x: number, y: number, radius: number): void {
    this.path.push(RING, x, y, radius);
  }

  diamond(x: number, y: number, radius: number): void {
    this.path.push(DIAMOND, x, y, radius);
  }

  /** A line through points, given as x and y in turn. */
  through(points: readonly number[]): void {
    for (let i = 0; i + 1 < points.length; i += 2) this.path.push(i === 0 ? MOVE : LINE, points[i]!, points[i + 1]!);
  }
}

/** Draws a pen path; the target's own path is begun and stroked by the caller. */
export function tracePen(target: PenTarget, path: PenPath): void {
  for (let i = 0; i < path.length;) {
    const operation = path[i]!;
    if (operation === RING) {
      target.moveTo(path[i + 1]! + path[i + 3]!, path[i + 2]!);
      target.arc(path[i + 1]!, path[i + 2]!, path[i + 3]!, 0, 2 * Math.PI);
      i += 4;
    } else if (operation === DIAMOND) {
      const [x, y, radius] = [path[i + 1]!, path[i + 2]!, path[i + 3]!];
      target.moveTo(x, y - radius);
      target.lineTo(x + radius, y);
      target.lineTo(x, y + radius);
      target.lineTo(x - radius, y);
      target.closePath();
      i += 4;
    } else {
      if (operation === MOVE) target.moveTo(path[i + 1]!, path[i + 2]!);
      else target.lineTo(path[i + 1]!, path[i + 2]!);
      i += 3;
    }
  }
}

/** What level and upright strokes are filled on. */
export type RectTarget = Pick<CanvasRenderingContext2D, 'fillRect'>;

/**
 * Fills the strokes of a path that holds nothing but level and upright ones as rectangles `width` thick, which costs a fraction
 * of stroking them as one path; `dash` cuts them. @returns false, with nothing filled, where the path holds anything else.
 */
export function fillStraight(
  target: RectTarget,
  path: PenPath,
  width: number,
  dash: readonly number[] | undefined,
): boolean {
  if (!isStraight(path)) return false;
  const half = width / 2;
  const [on, off] = dash === undefined ? [Number.POSITIVE_INFINITY, 0] : [dash[0]!, dash[1] ?? dash[0]!];
  for (let i = 0; i < path.length; i += 6) {
    const [x1, y1, x2, y2] = [path[i + 1]!, path[i + 2]!, path[i + 4]!, path[i + 5]!];
    const length = Math.abs(x2 - x1) + Math.abs(y2 - y1);
    const upright = x1 === x2;
    const back = upright ? y2 < y1 : x2 < x1;
    for (let at = 0; at < length; at += on + off) {
      const part = Math.min(on, length - at);
      const from = back ? -at - part : at;
      if (upright) target.fillRect(x1 - half, y1 + from, width, part);
      else target.fillRect(x1 + from, y1 - half, part, width);
    }
  }
  return true;
}

function isStraight(path: PenPath): boolean {
  if (path.length % 6 !== 0) return false;
  for (let i = 0; i < path.length; i += 6) {
    if (path[i] !== MOVE || path[i + 3] !== LINE) return false;
    if (path[i + 1] !== path[i + 4] && path[i + 2] !== path[i + 5]) return false;
  }
  return true;
}

/** A ring or a diamond of a path. */
export interface PenShape {
  readonly kind: number;
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** The shapes of a path that holds nothing but rings and diamonds; null where it holds anything else. */
export function shapesOf(path: PenPath): PenShape[] | null {
  const shapes: PenShape[] = [];
  for (let i = 0; i < path.length; i += 4) {
    if (path[i] !== RING && path[i] !== DIAMOND) return null;
    shapes.push({ kind: path[i]!, x: path[i + 1]!, y: path[i + 2]!, radius: path[i + 3]! });
  }
  return shapes;
}

/** The same as SVG path data, to a tenth of a pixel. */
export function penData(path: PenPath): string {
  let data = '';
  let x = Number.NaN;
  let y = Number.NaN;
  for (let i = 0; i < path.length;) {
    const operation = path[i]!;
    const [to_x, to_y] = [tenth(path[i + 1]!), tenth(path[i + 2]!)];
    if (operation === RING) {
      const r = tenth(path[i + 3]!);
      data += `M${tenth(path[i + 1]! - path[i + 3]!)} ${to_y}a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0Z`;
      i += 4;
      continue;
    }
    if (operation === DIAMOND) {
      const r = tenth(path[i + 3]!);
      data += `M${to_x} ${tenth(path[i + 2]! - path[i + 3]!)}l${r} ${r}l${-r} ${r}l${-r} ${-r}Z`;
      i += 4;
      continue;
    }
    if (operation === MOVE) data += `M${to_x} ${to_y}`;
    else if (to_y === y) data += `H${to_x}`;
    else if (to_x === x) data += `V${to_y}`;
    else data += `L${to_x} ${to_y}`;
    [x, y] = [to_x, to_y];
    i += 3;
  }
  return data;
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}
