import type { Label, Stroke } from './drawing.js';
import { shapesOf, tracePen, type PenShape } from './path-pen.js';
import type { Paper } from './paint-drawing.js';

/** A label or a small shape as a picture, with the place in it that is put on the paper. */
interface Stamp {
  readonly image: HTMLCanvasElement;
  readonly x: number;
  readonly y: number;
  /** Of a label: how long it is. */
  readonly length: number;
}

const MOST = 800;
const ROOM = 4;
const ASCENT = 14;
const DESCENT = 6;
const HALO = 3.5;

/**
 * Words, rings and diamonds drawn once each and stamped from then on: outlining text anew in every frame, or hundreds of filled
 * shapes as one path, costs more than everything else in a picture. Good for one paper and one pixel ratio.
 */
export class Stamps {
  private readonly stamps = new Map<string, Stamp>();

  constructor(
    private readonly paper: Paper,
    private readonly ratio: number,
  ) {}

  /** Stamps a label where it stands, on whole device pixels, so that it stays sharp. */
  label(canvas: CanvasRenderingContext2D, label: Label): void {
    const { paper, ratio } = this;
    const weight = label.strong ? paper.strongWeight : paper.weight;
    const font = label.axis ? `italic ${paper.weight} ${paper.axisFace}` : `${weight} ${paper.face}`;
    const key = `${font}|${label.ink}|${label.halo === true}|${label.text}`;
    const stamp = this.kept(key, () => this.labelStamp(label, font));
    const { anchor = 'start' } = label;
    const shift = anchor === 'start' ? 0 : anchor === 'middle' ? stamp.length / 2 : stamp.length;
    const x = Math.round((label.x - shift - stamp.x) * ratio) / ratio;
    const y = Math.round((label.y - stamp.y) * ratio) / ratio;
    canvas.drawImage(stamp.image, x, y, stamp.image.width / ratio, stamp.image.height / ratio);
  }

  /** Stamps a filled stroke that holds nothing but rings or diamonds. @returns false where it holds anything else. */
  shapes(canvas: CanvasRenderingContext2D, stroke: Stroke): boolean {
    const shapes = stroke.pen === undefined || stroke.fill === undefined ? null : shapesOf(stroke.pen);
    if (shapes === null) return false;
    for (const shape of shapes) {
      const key = `${shape.kind}|${shape.radius}|${stroke.ink}|${stroke.fill}|${stroke.width}`;
      const { image, x, y } = this.kept(key, () => this.shapeStamp(shape, stroke));
      canvas.drawImage(image, shape.x - x, shape.y - y, image.width / this.ratio, image.height / this.ratio);
    }
    return true;
  }

  private kept(key: string, make: () => Stamp): Stamp {
    const found = this.stamps.get(key);
    if (found !== undefined) return found;
    if (this.stamps.size >= MOST) this.stamps.clear();
    const made = make();
    this.stamps.set(key, made);
    return made;
  }

  private labelStamp({ text, halo, ink }: Label, font: string): Stamp {
    const image = document.createElement('canvas');
    const measuring = image.getContext('2d')!;
    measuring.font = font;
    const { width: length } = measuring.measureText(text);
    const context = this.sized(image, length + 2 * ROOM, ASCENT + DESCENT);
    context.font = font;
    if (halo) {
      context.lineJoin = 'round';
      context.lineWidth = HALO;
      context.strokeStyle = this.paper.colours.paper;
      context.strokeText(text, ROOM, ASCENT);
    }
    context.fillStyle = this.paper.colours[ink];
    context.fillText(text, ROOM, ASCENT);
    return { image, x: ROOM, y: ASCENT, length };
  }

  private shapeStamp({ kind, radius }: PenShape, { ink, fill, width }: Stroke): Stamp {
    const image = document.createElement('canvas');
    const middle = Math.ceil(radius + width);
    const context = this.sized(image, 2 * middle, 2 * middle);
    context.beginPath();
    tracePen(context, [kind, middle, middle, radius]);
    context.fillStyle = this.paper.colours[fill!];
    context.fill();
    if (ink !== null) {
      context.strokeStyle = this.paper.colours[ink];
      context.lineWidth = width * this.paper.lineScale;
      context.stroke();
    }
    return { image, x: middle, y: middle, length: 0 };
  }

  private sized(image: HTMLCanvasElement, width: number, height: number): CanvasRenderingContext2D {
    image.width = Math.ceil(width * this.ratio);
    image.height = Math.ceil(height * this.ratio);
    const context = image.getContext('2d')!;
    context.scale(this.ratio, this.ratio);
    return context;
  }
}
