import type { Stroke } from './drawing.js';
import { PathPen } from './path-pen.js';

/** Where both claim the same place: uprights and levels cross, and a frame closes round. */
export class ContestedPens {
  private readonly uprights = new PathPen();
  private readonly levels = new PathPen();
  private readonly frames = new PathPen();

  add(left: number, top: number, width: number, height: number): void {
    for (let x = left + 2; x < left + width; x += 4) this.uprights.upright(x, top, top + height);
    for (let y = top + 2; y < top + height; y += 3) this.levels.level(left, left + width, y);
    this.frames.level(left, left + width, top);
    this.frames.level(left, left + width, top + height);
    this.frames.upright(left, top, top + height);
    this.frames.upright(left + width, top, top + height);
  }

  strokes(): Stroke[] {
    return [
      { path: '', pen: this.uprights.path, ink: 'kick', width: 1.2 },
      { path: '', pen: this.levels.path, ink: 'bass', width: 1.2 },
      { path: '', pen: this.frames.path, ink: 'kick', width: 1.2 },
    ];
  }
}
