import { sayNumberOf } from '../../fields/say-value.js';
import { diamondMark } from '../../marks/diamond-mark.js';
import type { Drawing } from '../../marks/drawing.js';
import { pathData } from '../../marks/path-data.js';
import { levelTolerance } from '../../marks/tolerance-mark.js';
import { rulerRange, type MeasureRow } from '../findings/measure-rows.js';

const EDGE = 8;

/** A measure's ruler: tolerance shaded, the source a hollow diamond, joined by a line to the treated one, filled. */
export function movedRuler(row: MeasureRow, width: number, withScale: boolean): Drawing {
  const [from, to] = rulerRange(row);
  const x = (value: number): number => EDGE + ((value - from) / (to - from)) * (width - 2 * EDGE);
  const { tolerance, better, value, treated } = row;
  const higher = better === 'higher';
  const left = tolerance !== null && higher ? x(tolerance) : EDGE;
  const right = tolerance !== null && !higher ? x(tolerance) : width - EDGE;
  const ticks = [from, (from + to) / 2, to];
  return {
    strokes: [
      ...(tolerance === null ? [] : levelTolerance(left, right, 11, 11, { left: higher, right: !higher })),
      { path: pathData.level(EDGE, width - EDGE, 11), ink: 'rule-strong', width: 1 },
      ...(value === null || treated === null
        ? []
        : [{ path: pathData.level(x(value), x(treated), 11), ink: 'ink' as const, width: 1.8 }]),
      ...(value === null ? [] : [diamondMark(x(value), 11, 'source')]),
      ...(treated === null ? [] : [diamondMark(x(treated), 11, 'treated')]),
    ],
    labels: withScale
      ? ticks.map((tick) => ({
          x: x(tick),
          y: 30,
          text: sayNumberOf(Math.round(tick), ''),
          ink: 'ink-2' as const,
          anchor: 'middle' as const,
        }))
      : [],
  };
}

/** What moved, with its sign. */
export function sayMoved({ value, treated }: MeasureRow, unit: string): string {
  if (value === null || treated === null) return '';
  const change = treated - value;
  const text = sayNumberOf(change, unit);
  return change > 0 && text !== '0' ? `+${text}` : text;
}
