import { scaleLinear, scaleLog } from 'd3-scale';
import type { Drawing, Label } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { nearestNote } from '../../core/units/notes.js';
import { sayLevel } from '../strip/say-level.js';

/** A plot's place on the paper and its two scales. */
export interface PlotArea {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly least: number;
  readonly most: number;
  readonly from: number;
  readonly to: number;
}

export interface PlotRange {
  readonly from: number;
  readonly to: number;
  /** Equal steps for equal ratios: frequencies. */
  readonly log?: boolean;
  /** Lowest and highest value; `downward` turns the axis, for losses that hang. */
  readonly least: number;
  readonly most: number;
  readonly downward?: boolean;
}

export const LEFT_px = 40;

export function plotArea(width: number, top: number, bottom: number, range: PlotRange, right_px = 10): PlotArea {
  const [left, right] = [LEFT_px, width - right_px];
  const across = range.log ? scaleLog() : scaleLinear();
  const x = across.domain([range.from, range.to]).range([left, right]);
  const y = scaleLinear()
    .domain(range.downward ? [range.most, range.least] : [range.least, range.most])
    .range([bottom, top]);
  const { from, to, least, most } = range;
  return { left, right, top, bottom, x: (value) => x(value), y: (value) => y(value), least, most, from, to };
}

/** Round values of an upright scale: about one every 34 px. */
export function levelTicks({ least, most, top, bottom }: PlotArea): number[] {
  return scaleLinear()
    .domain([least, most])
    .ticks(Math.max(2, Math.round((bottom - top) / 34)));
}

/** Hairlines with their figures at the left; `signed` writes a plus. */
export function levelAxis(area: PlotArea, signed = true): Drawing {
  const ticks = levelTicks(area);
  const whole = ticks.every((tick) => Number.isInteger(tick));
  return {
    strokes: [
      {
        path: ticks.map((tick) => pathData.level(area.left, area.right, area.y(tick))).join(''),
        ink: 'rule',
        width: 0.8,
      },
      { path: pathData.upright(area.left, area.top, area.bottom), ink: 'rule-strong', width: 1 },
    ],
    labels: ticks.map((tick): Label => {
      const text = signed ? sayLevel(tick, whole ? 0 : 1) : sayLevel(tick, whole ? 0 : 1).replace('+', '');
      return { x: area.left - 7, y: area.y(tick) + 4, text, ink: tick === 0 ? 'ink' : 'ink-2', anchor: 'end' };
    }),
  };
}

const HERTZ = [5, 10, 20, 31, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 1000, 2000];

/** Frequencies along the foot, at most one every `apart` pixels; the nominal third octaves. */
export function hertzAxis(area: PlotArea, apart = 46): Drawing {
  const labels: Label[] = [
    { x: area.left - 7, y: area.bottom + 16, text: 'Hz', ink: 'ink-2', anchor: 'end', axis: true },
  ];
  let ticks = pathData.level(area.left, area.right, area.bottom);
  let last = Number.NEGATIVE_INFINITY;
  for (const hertz of HERTZ) {
    const x = area.x(hertz);
    if (hertz < area.from || hertz > area.to || x - last < apart) continue;
    last = x;
    ticks += pathData.upright(x, area.bottom, area.bottom + 4);
    const text = hertz >= 1000 ? `${hertz / 1000}k` : String(hertz);
    labels.push({ x, y: area.bottom + 16, text, ink: 'ink-2', anchor: 'middle' });
  }
  return { strokes: [{ path: ticks, ink: 'rule-strong', width: 1 }], labels };
}

/** Even steps along the foot: seconds, or whatever a list is over. */
export function placeAxis(area: PlotArea, say: (value: number) => string): Drawing {
  const ticks = scaleLinear()
    .domain([area.from, area.to])
    .ticks(Math.max(2, Math.round((area.right - area.left) / 80)));
  return {
    strokes: [
      {
        path: ticks.map((tick) => pathData.upright(area.x(tick), area.bottom, area.bottom + 4)).join(''),
        ink: 'rule-strong',
        width: 1,
      },
    ],
    labels: ticks.map((tick) => ({
      x: area.x(tick),
      y: area.bottom + 16,
      text: say(tick),
      ink: 'ink-2',
      anchor: 'middle',
    })),
  };
}

/** Notes a fourth apart along the foot with their frequency under them, from E1. */
export function noteAxis(area: PlotArea): Drawing {
  const labels: Label[] = [
    { x: area.left - 7, y: area.bottom + 16, text: 'note', ink: 'ink-2', anchor: 'end', axis: true },
    { x: area.left - 7, y: area.bottom + 30, text: 'Hz', ink: 'ink-2', anchor: 'end', axis: true },
  ];
  let ticks = pathData.level(area.left, area.right, area.bottom);
  for (let midi = 23; midi < 80; midi += 5) {
    const hertz = 440 * 2 ** ((midi - 69) / 12);
    if (hertz < area.from || hertz > area.to) continue;
    const x = area.x(hertz);
    ticks += pathData.upright(x, area.bottom, area.bottom + 4);
    labels.push({ x, y: area.bottom + 16, text: nearestNote(hertz).name, ink: 'ink', anchor: 'middle' });
    labels.push({ x, y: area.bottom + 30, text: String(Math.round(hertz)), ink: 'ink-2', anchor: 'middle' });
  }
  return { strokes: [{ path: ticks, ink: 'rule-strong', width: 1 }], labels };
}

/** Level strokes that fill an upright stretch: the bass's hatching. */
export function levelHatch(left: number, right: number, top: number, bottom: number, step = 3): string {
  let path = '';
  for (let y = Math.min(top, bottom) + step; y < Math.max(top, bottom); y += step)
    path += pathData.level(left, right, y);
  return path;
}
