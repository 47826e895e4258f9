import { paintDrawing, paperOf, type Paper } from '../marks/paint-drawing.js';
import type { Drawing } from '../marks/drawing.js';
import { Stamps } from '../marks/stamps.js';

/** What is to be painted at the moment, asked for at most once a frame. */
export interface Scene {
  (width: number): Drawing;
}

/** Paints a scene on a canvas, once a frame at most and only when something has changed. */
export class StripPainter {
  private paper: Paper | null = null;
  private stamps: Stamps | null = null;
  private ratio = 0;
  private frame = 0;
  private scene: Scene | null = null;
  private readonly resized: ResizeObserver;
  private readonly paperChanged: MutationObserver;

  constructor(private readonly canvas: HTMLCanvasElement) {
    this.resized = new ResizeObserver(() => this.repaint());
    this.resized.observe(canvas);
    this.paperChanged = new MutationObserver(() => {
      this.forget();
      this.repaint();
    });
    this.paperChanged.observe(document.documentElement, { attributes: true, attributeFilter: ['data-paper'] });
    void document.fonts.ready.then(() => {
      this.forget();
      this.repaint();
    });
  }

  show(scene: Scene): void {
    this.scene = scene;
    this.repaint();
  }

  /** Asks for a frame; several calls before it make one painting. */
  readonly repaint = (): void => {
    if (this.frame === 0) this.frame = requestAnimationFrame(() => this.paint());
  };

  stop(): void {
    cancelAnimationFrame(this.frame);
    this.frame = 0;
    this.resized.disconnect();
    this.paperChanged.disconnect();
  }

  /** Another paper, or faces that have come: words are set anew. */
  private forget(): void {
    this.paper = null;
    this.stamps = null;
  }

  private paint(): void {
    this.frame = 0;
    const { clientWidth: width, clientHeight: height } = this.canvas;
    const context = this.canvas.getContext('2d');
    if (context === null || this.scene === null || width === 0 || height === 0) return;
    const ratio = window.devicePixelRatio || 1;
    const [pixelsWide, pixelsHigh] = [Math.round(width * ratio), Math.round(height * ratio)];
    if (this.canvas.width !== pixelsWide || this.canvas.height !== pixelsHigh) {
      this.canvas.width = pixelsWide;
      this.canvas.height = pixelsHigh;
    }
    if (ratio !== this.ratio) this.stamps = null;
    this.ratio = ratio;
    this.paper ??= paperOf(this.canvas);
    this.stamps ??= new Stamps(this.paper, ratio);
    context.setTransform(ratio, 0, 0, ratio, 0, 0);
    context.clearRect(0, 0, width, height);
    paintDrawing(context, this.scene(width), this.paper, this.stamps);
  }
}
