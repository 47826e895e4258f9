import type { Stroke } from './drawing.js';
import { PathPen } from './path-pen.js';

/** From here on a hit stands on the waterline solid; under it, it is hollow. */
export const CLEAR_dB = 2;

export interface HitPlace {
  readonly x: number;
  readonly clearance_dB: number;
  /** Where 0 dB lies. */
  readonly zero_y: number;
  readonly px_per_dB: number;
  /** Uprights end here; one that is taller is broken. */
  readonly top_y: number;
  readonly bottom_y: number;
}

/**
 * Kick hits on the waterline: 2 dB or more clear is a solid upright as tall as it is clear; under that it is thin with a hollow
 * head; under 0 dB sunk and dashed.
 */
export class HitPens {
  private readonly clear = new PathPen();
  private readonly cuts = new PathPen();
  private readonly thin = new PathPen();
  private readonly sunk = new PathPen();
  private readonly heads = new PathPen();

  add({ x, clearance_dB, zero_y, px_per_dB, top_y, bottom_y }: HitPlace): void {
    const wanted_y = zero_y - clearance_dB * px_per_dB;
    const head_y = Math.max(top_y, Math.min(bottom_y, wanted_y));
    if (clearance_dB >= CLEAR_dB) {
      this.clear.upright(x, zero_y, head_y);
      this.clear.level(x - 3, x + 3, head_y);
      if (wanted_y < top_y - 0.5) this.cuts.line(x - 4, head_y + 8, x + 4, head_y + 4);
      return;
    }
    const isSunk = clearance_dB < 0;
    const stem = isSunk ? this.sunk : this.thin;
    if (Math.abs(head_y - zero_y) > RADIUS) stem.upright(x, zero_y, isSunk ? head_y - RADIUS : head_y + RADIUS);
    this.heads.ring(x, head_y, RADIUS);
  }

  strokes(): Stroke[] {
    const all: Stroke[] = [
      { path: '', pen: this.clear.path, ink: 'kick', width: 2 },
      { path: '', pen: this.cuts.path, ink: 'paper', width: 2.5 },
      { path: '', pen: this.thin.path, ink: 'kick', width: 1.25 },
      { path: '', pen: this.sunk.path, ink: 'kick', width: 1.25, dash: [2, 2] },
      { path: '', pen: this.heads.path, ink: 'kick', width: 1.6, fill: 'paper' },
    ];
    return all.filter(({ pen }) => pen!.length > 0);
  }
}

/** One hit alone. */
export function hitMark(place: HitPlace): Stroke[] {
  const pens = new HitPens();
  pens.add(place);
  return pens.strokes();
}

const RADIUS = 3.5;
