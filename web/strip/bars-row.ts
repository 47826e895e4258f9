import type { Drawing, Label } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { barAt, BEATS_PER_BAR, barStart_s, clockText, type BeatGrid } from './beat-grid.js';
import { placeLabels } from './place-labels.js';
import { px_per_s, type StripFrame } from './strip-frame.js';
import { x_of } from './strip-view.js';

/** Bars between two numbers on the ruler: 1, 2, 4, 8 and so on, so that numbers stand 44 px apart or more. */
export function barStep(px_per_bar: number): number {
  let step = 1;
  while (step * px_per_bar < 44) step *= 2;
  return step;
}

/** Seconds between two figures of the clock where there are no bars. */
export function clockStep_s(pixels_per_s: number): number {
  return [1, 2, 5, 10, 20, 30, 60, 120, 300].find((step) => step * pixels_per_s >= 56) ?? 600;
}

/** Bars with their numbers, beats as ticks; bar lines run through all rows down to `bottom_y`. */
export function barsRow(grid: BeatGrid | null, frame: StripFrame, bottom_y: number): Drawing {
  return grid === null ? clockRow(frame, bottom_y) : gridRow(grid, frame, bottom_y);
}

function gridRow(grid: BeatGrid, frame: StripFrame, bottom_y: number): Drawing {
  const px_per_bar = px_per_s(frame) * grid.beat_s * BEATS_PER_BAR;
  const step = barStep(px_per_bar);
  const base = frame.top + frame.height;
  const labels: Label[] = [];
  let lines = '';
  let ticks = pathData.level(0, frame.width, base);
  const last = barAt(grid, frame.view.to_s);
  for (let bar = barAt(grid, frame.view.from_s); bar <= last; bar++) {
    const x = x_of(frame.view, frame.width, barStart_s(grid, bar));
    const numbered = (((bar - 1) % step) + step) % step === 0;
    if (numbered && bar > 0) labels.push({ x: x + 5, y: base - 5, text: String(bar), ink: 'ink' });
    if (numbered && x >= 0) lines += pathData.upright(x, frame.top + 2, bottom_y);
    if (px_per_bar < 40) continue;
    for (let beat = 1; beat < BEATS_PER_BAR; beat++) {
      const at = x + (beat * px_per_bar) / BEATS_PER_BAR;
      if (at >= 0 && at <= frame.width) ticks += pathData.upright(at, base, base - 4);
    }
  }
  return rulerOf(lines, ticks, labels);
}

function clockRow(frame: StripFrame, bottom_y: number): Drawing {
  const step = clockStep_s(px_per_s(frame));
  const base = frame.top + frame.height;
  const labels: Label[] = [];
  let lines = '';
  for (let at = Math.ceil(frame.view.from_s / step) * step; at <= frame.view.to_s; at += step) {
    const x = x_of(frame.view, frame.width, at);
    labels.push({ x: x + 5, y: base - 5, text: clockText(at).replace(/\.0$/, ''), ink: 'ink' });
    lines += pathData.upright(x, frame.top + 2, bottom_y);
  }
  return rulerOf(lines, pathData.level(0, frame.width, base), labels);
}

function rulerOf(lines: string, ticks: string, labels: readonly Label[]): Drawing {
  return {
    strokes: [
      { path: lines, ink: 'rule', width: 1 },
      { path: ticks, ink: 'rule-strong', width: 1 },
    ],
    labels: placeLabels(labels),
  };
}
