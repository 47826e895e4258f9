import type { Drawing, Ink, Label, Stroke } from '../../marks/drawing.js';
import { pathData } from '../../marks/path-data.js';
import { sayNumberOf, sayValue } from '../../fields/say-value.js';
import { fixedScale, type AxisScale } from './axis-scale.js';

/** A plain plot that a stage at work is drawn on: lines over a scale, ticks at the left and the foot. */
export interface WorkPlot {
  readonly title: string;
  readonly lines: readonly {
    readonly points: readonly (readonly [x: number, y: number])[];
    readonly ink: Ink;
    readonly width?: number;
    readonly dash?: readonly number[];
    readonly name?: string;
  }[];
  /** Uprights from the foot, or from 0 where the scale holds it. */
  readonly uprights?: readonly {
    readonly x: number;
    readonly y: number;
    readonly from?: number;
    readonly ink: Ink;
    readonly width: number;
  }[];
  readonly marks?: readonly { readonly x: number; readonly y: number; readonly filled: boolean }[];
  readonly x: {
    readonly name: string;
    readonly unit: string;
    readonly log?: boolean;
    readonly ticks?: readonly number[];
  };
  readonly y: { readonly unit: string; readonly from: number; readonly to: number };
}

const LEFT = 46;
const RIGHT = 12;
const TOP = 14;
const FOOT = 36;

/** Draws a work plot at a size. */
export function drawWorkPlot(plot: WorkPlot, width: number, height: number): Drawing {
  const xs = [
    ...plot.lines.flatMap(({ points }) => points.map(([x]) => x)),
    ...(plot.uprights ?? []).map(({ x }) => x),
    ...(plot.x.ticks ?? []),
  ];
  const along = (value: number): number => (plot.x.log === true ? Math.log10(value) : value);
  const first = along(Math.min(...xs));
  const last = along(Math.max(...xs));
  const span = fixedScale(first, last, LEFT, width - RIGHT, 5);
  const at = (value: number): number =>
    LEFT + ((along(value) - first) / Math.max(1e-9, last - first)) * (width - RIGHT - LEFT);
  const y = fixedScale(plot.y.from, plot.y.to, height - FOOT, TOP, 4);
  const ticks = plot.x.ticks ?? span.ticks;
  return {
    strokes: [
      ...scales(ticks, at, y, width, height),
      ...uprights(plot, at, y),
      ...lines(plot, at, y),
      ...marks(plot, at, y),
    ],
    labels: [...scaleWords(plot, ticks, at, y, width, height), ...lineWords(plot, at, y)],
  };
}

function scales(
  ticks: readonly number[],
  at: (x: number) => number,
  y: AxisScale,
  width: number,
  height: number,
): Stroke[] {
  const feet = ticks.map((tick) => pathData.upright(at(tick), height - FOOT, height - FOOT + 4)).join('');
  return [
    { path: y.ticks.map((tick) => pathData.level(LEFT, width - RIGHT, y.at(tick))).join(''), ink: 'rule', width: 1 },
    { path: pathData.level(LEFT, width - RIGHT, height - FOOT) + feet, ink: 'rule-strong', width: 1 },
  ];
}

function scaleWords(
  plot: WorkPlot,
  ticks: readonly number[],
  at: (x: number) => number,
  y: AxisScale,
  width: number,
  height: number,
): Label[] {
  const behind = plot.x.unit === '' ? '' : `, ${plot.x.unit}`;
  return [
    ...y.ticks.map((tick, i): Label => {
      const text = i === y.ticks.length - 1 ? sayValue(tick, plot.y.unit) : sayNumberOf(tick, plot.y.unit);
      return { x: LEFT - 6, y: y.at(tick) + 4, text, ink: 'ink-2', anchor: 'end' };
    }),
    ...ticks.map((tick): Label => ({
      x: at(tick),
      y: height - FOOT + 16,
      text: sayNumberOf(tick, ''),
      ink: 'ink-2',
      anchor: 'middle',
    })),
    { x: width - RIGHT, y: height - 4, text: `${plot.x.name}${behind}`, ink: 'ink-2', anchor: 'end', axis: true },
  ];
}

function uprights({ uprights: all = [] }: WorkPlot, at: (x: number) => number, y: AxisScale): Stroke[] {
  return all.map(({ x, y: top, from, ink, width }) => ({
    path: pathData.upright(at(x), y.at(from ?? y.least), y.at(Math.max(y.least, Math.min(y.most, top)))),
    ink,
    width,
  }));
}

function lines({ lines: all }: WorkPlot, at: (x: number) => number, y: AxisScale): Stroke[] {
  return all.map(({ points, ink, width = 2, dash }) => ({
    path: pathData.through(points.map(([x, level]) => [at(x), y.at(Math.max(y.least, Math.min(y.most, level)))])),
    ink,
    width,
    ...(dash === undefined ? {} : { dash }),
  }));
}

function marks({ marks: all = [] }: WorkPlot, at: (x: number) => number, y: AxisScale): Stroke[] {
  return all.map(({ x, y: level, filled }) => {
    const [cx, cy] = [at(x), y.at(Math.max(y.least, Math.min(y.most, level)))];
    return { path: `M${cx} ${cy - 4}l4 4l-4 4l-4 -4Z`, ink: 'ink', width: 1.4, fill: filled ? 'ink' : 'paper' };
  });
}

/** Names stand at the right end of their lines. */
function lineWords({ lines: all }: WorkPlot, at: (x: number) => number, y: AxisScale): Label[] {
  return all.flatMap(({ name, points, ink }) => {
    const end = points[points.length - 1];
    if (name === undefined || end === undefined) return [];
    const level = Math.max(y.least, Math.min(y.most, end[1]));
    return [{ x: at(end[0]) - 4, y: y.at(level) - 6, text: name, ink, anchor: 'end' as const, halo: true }];
  });
}
