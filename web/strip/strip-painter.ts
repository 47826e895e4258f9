import { paintDrawing, paperOf, type Paper } from '../marks/paint-drawing.js';
import type { Drawing } from '../marks/drawing.js';
import { Stamps } from '../marks/stamps.js';
import { frameTime } from './frame-time.js';

/** What is to be painted at the moment, asked for at most once a frame: drawings to be made one by one, the lowest first. */
export interface Scene {
  (width: number): readonly (() => Drawing)[];
}

/**
 * Paints a scene on a canvas, once a frame at most and only when something has changed. The first time everything is slow: no
 * word is set and no code is compiled yet; so drawings appear one after another then, as many in a frame as there is time for.
 */
export class StripPainter {
  private paper: Paper | null = null;
  private stamps: Stamps | null = null;
  private ratio = 0;
  private frame = 0;
  /** Drawings that stand on the canvas of a scene that is painted for the first time; null once it is whole. */
  private first: number | null = 0;
  private scene: Scene | null = null;
  /** As laid out; before that nothing is painted, so that the frame in which the page is laid out does no more than that. */
  private size: { readonly width: number; readonly height: number } | null = null;
  private readonly resized: ResizeObserver;
  private readonly paperChanged: MutationObserver;

  constructor(private readonly canvas: HTMLCanvasElement) {
    this.resized = new ResizeObserver(([entry]) => {
      this.size = entry!.contentRect;
      this.repaint();
    });
    this.resized.observe(canvas);
    this.paperChanged = new MutationObserver(this.renew);
    this.paperChanged.observe(document.documentElement, { attributes: true, attributeFilter: ['data-paper'] });
    // not `fonts.ready`: it lays the whole page out to know
    document.fonts.addEventListener('loadingdone', this.renew);
  }

  show(scene: Scene): void {
    this.scene = scene;
    this.repaint();
  }

  /** The scene is another one now: it is painted whole in one frame. */
  readonly move = (): void => {
    this.first = null;
    this.repaint();
  };

  /** Asks for a frame; several calls before it make one painting. */
  readonly repaint = (): void => {
    if (this.frame === 0 && this.size !== null) this.frame = requestAnimationFrame((frame_ms) => this.paint(frame_ms));
  };

  stop(): void {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.resized.disconnect();
    this.paperChanged.disconnect();
    document.fonts.removeEventListener('loadingdone', this.renew);
  }

  /** Another paper, or faces that have come: words are set anew. */
  private readonly renew = (): void => {
    this.paper = null;
    this.stamps = null;
    this.startAnew();
    this.repaint();
  };

  /** Nothing stands on the canvas any more of a scene that was being painted for the first time. */
  private startAnew(): void {
    if (this.first !== null) this.first = 0;
  }

  private paint(frame_ms: number): void {
    this.frame = 0;
    const { width, height } = this.size!;
    const context = this.canvas.getContext('2d');
    if (context === null || this.scene === null || width === 0 || height === 0) return;
    const ratio = window.devicePixelRatio || 1;
    const [pixelsWide, pixelsHigh] = [Math.round(width * ratio), Math.round(height * ratio)];
    if (this.canvas.width !== pixelsWide || this.canvas.height !== pixelsHigh) {
      this.canvas.width = pixelsWide;
      this.canvas.height = pixelsHigh;
      this.startAnew();
    }
    if (ratio !== this.ratio) this.stamps = null;
    this.ratio = ratio;
    this.paper ??= paperOf(this.canvas);
    this.stamps ??= new Stamps(this.paper, ratio);
    context.setTransform(ratio, 0, 0, ratio, 0, 0);
    if (this.first === null || this.first === 0) context.clearRect(0, 0, width, height);
    const drawings = this.scene(width);
    for (let at = this.first ?? 0; at < drawings.length; at++) {
      if (this.first !== null && !frameTime.isLeft(frame_ms)) {
        this.first = at;
        this.repaint();
        return;
      }
      paintDrawing(context, drawings[at]!(), this.paper, this.stamps);
    }
    this.first = null;
  }
}
