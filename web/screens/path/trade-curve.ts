import type { Wish } from '../../../core/wishes/wish.js';
import { sayNumberOf, sayValue } from '../../fields/say-value.js';
import { uprightBracket } from '../../marks/bracket-mark.js';
import { diamondMark } from '../../marks/diamond-mark.js';
import type { Drawing, Label, Stroke } from '../../marks/drawing.js';
import { pathData } from '../../marks/path-data.js';
import { axisScale, fixedScale, type AxisScale } from './axis-scale.js';

/** What the trade curve of a stage is drawn from; results in data's unit, `scale` makes them the shown one. */
export interface TradeQuestion {
  readonly trials: readonly { readonly amount: number; readonly result: number }[];
  /** The amount that was chosen and what it reached; null where nothing was chosen. */
  readonly chosen: { readonly amount: number; readonly result: number } | null;
  /** The result without the stage, where it was measured. */
  readonly now: number | null;
  readonly wish: Wish | null;
  readonly unit: string;
  readonly scale: number;
  readonly amountName: string;
  readonly amountUnit: string;
}

export interface TradeCurve {
  readonly drawing: Drawing;
  /** Where the limits of the wish lie, for the pointer; null where the wish has none there. */
  readonly limits: { readonly low: number | null; readonly high: number | null };
  /** The result, in data's unit, at a height. */
  resultAt(y: number): number;
  /** Every render as a table: amount and result. */
  readonly rows: readonly { readonly amount: string; readonly result: string; readonly chosen: boolean }[];
}

const LEFT = 52;
const RIGHT = 20;
const TOP = 12;
const FOOT = 36;

/** What each bit of treatment buys: every render tried hollow, the chosen one filled, the wish a bracket on the scale of results. */
export function tradeCurve(question: TradeQuestion, width: number, height: number): TradeCurve {
  const { trials, chosen, now, wish, unit, scale } = question;
  const limits = [wish?.low, wish?.high].filter((limit) => limit !== null && limit !== undefined);
  const results = [...trials.map(({ result }) => result), ...(chosen === null ? [] : [chosen.result]), ...limits];
  if (now !== null) results.push(now);
  const amounts = [...trials.map(({ amount }) => amount), ...(chosen === null ? [] : [chosen.amount])];
  const shown = results.map((result) => result * scale);
  const free = axisScale(shown.length === 0 ? [0] : shown, height - FOOT, TOP, 5, unit === '%' ? 10 : 1);
  const y = unit === '%' && free.most > 100 ? fixedScale(Math.max(0, free.least), 100, height - FOOT, TOP, 5) : free;
  const x = axisScale(amounts.length === 0 ? [0] : amounts, LEFT, width - RIGHT, 5, 1);
  const limitAt = (limit: number | null): number | null => (limit === null ? null : y.at(limit * scale));
  return {
    drawing: {
      strokes: [
        ...grid(x, y, width, height),
        ...nowLine(now, scale, y, width),
        ...curve(question, x, y),
        ...bracket(wish, scale, y, width),
      ],
      labels: [
        ...axisWords(question, x, y, width, height),
        ...nowWords(now, scale, y, width),
        ...chosenWords(question, x, y, width),
      ],
    },
    limits: {
      low: limitAt(wish?.low ?? null),
      high: limitAt(wish?.high ?? null),
    },
    resultAt: (pixel) => y.valueAt(pixel) / scale,
    rows: rowsOf(question),
  };
}

function grid(x: AxisScale, y: AxisScale, width: number, height: number): Stroke[] {
  const lines = y.ticks.map((tick) => pathData.level(LEFT, width - RIGHT, y.at(tick))).join('');
  const feet = x.ticks.map((tick) => pathData.upright(x.at(tick), height - FOOT, height - FOOT + 4)).join('');
  return [
    { path: lines, ink: 'rule', width: 1 },
    { path: pathData.level(LEFT, width - RIGHT, height - FOOT) + feet, ink: 'rule-strong', width: 1 },
  ];
}

function axisWords(question: TradeQuestion, x: AxisScale, y: AxisScale, width: number, height: number): Label[] {
  const { unit, amountName, amountUnit } = question;
  const behind = amountUnit === '' ? '' : `, ${amountUnit}`;
  return [
    ...y.ticks.map((tick, i): Label => {
      const text = i === y.ticks.length - 1 ? sayValue(tick, unit) : sayNumberOf(tick, unit);
      return { x: LEFT - 8, y: y.at(tick) + 4, text, ink: 'ink-2', anchor: 'end' };
    }),
    ...x.ticks.map((tick): Label => ({
      x: x.at(tick),
      y: height - FOOT + 16,
      text: sayNumberOf(tick, ''),
      ink: 'ink-2',
      anchor: 'middle',
    })),
    { x: width - RIGHT, y: height - 4, text: `${amountName}${behind}`, ink: 'ink-2', anchor: 'end', axis: true },
  ];
}

function curve({ trials, chosen, scale }: TradeQuestion, x: AxisScale, y: AxisScale): Stroke[] {
  const all = chosen === null ? [...trials] : [...trials, chosen];
  const sorted = [...all].sort((a, b) => a.amount - b.amount);
  const place = ({ amount, result }: { amount: number; result: number }) =>
    [x.at(amount), y.at(result * scale)] as const;
  const marks = trials
    .filter((trial) => chosen === null || trial.amount !== chosen.amount)
    .map((trial) => diamondMark(...place(trial), 'source', 4));
  return [
    ...(sorted.length > 1 ? [{ path: pathData.through(sorted.map(place)), ink: 'ink-2' as const, width: 1 }] : []),
    ...marks,
    ...(chosen === null ? [] : [diamondMark(...place(chosen), 'treated', 6)]),
  ];
}

/** The length of the scale that meets the wish; a limit that is open runs to the end of the scale. */
function bracket(wish: Wish | null, scale: number, y: AxisScale, width: number): Stroke[] {
  if (wish === null || (wish.low === null && wish.high === null)) return [];
  const top = y.at(wish.high === null ? y.most : wish.high * scale);
  const bottom = y.at(wish.low === null ? y.least : wish.low * scale);
  const edges =
    (wish.high === null ? '' : pathData.level(LEFT, width - RIGHT, top)) +
    (wish.low === null ? '' : pathData.level(LEFT, width - RIGHT, bottom));
  return [{ path: edges, ink: 'wanted', width: 1, dash: [2, 3] }, uprightBracket(width - RIGHT + 10, top, bottom)];
}

function nowLine(now: number | null, scale: number, y: AxisScale, width: number): Stroke[] {
  if (now === null) return [];
  return [{ path: pathData.level(LEFT, width - RIGHT, y.at(now * scale)), ink: 'ink-2', width: 1, dash: [6, 3] }];
}

function nowWords(now: number | null, scale: number, y: AxisScale, width: number): Label[] {
  if (now === null) return [];
  const at = y.at(now * scale);
  return [
    {
      x: width - RIGHT - 4,
      y: at < TOP + 18 ? at + 14 : at - 5,
      text: 'without it',
      ink: 'ink-2',
      anchor: 'end',
      halo: true,
    },
  ];
}

function chosenWords(
  { chosen, scale, unit, amountUnit }: TradeQuestion,
  x: AxisScale,
  y: AxisScale,
  width: number,
): Label[] {
  if (chosen === null) return [];
  const [at, height] = [x.at(chosen.amount), y.at(chosen.result * scale)];
  const left = at < width / 2;
  const text = `chosen: ${sayValue(chosen.amount, amountUnit)}, ${sayValue(chosen.result * scale, unit)}`;
  return [
    {
      x: left ? at + 11 : at - 11,
      y: height < TOP + 16 ? height + 18 : height - 9,
      text,
      ink: 'ink',
      anchor: left ? 'start' : 'end',
      halo: true,
    },
  ];
}

function rowsOf({ trials, chosen, scale, unit, amountUnit }: TradeQuestion): TradeCurve['rows'] {
  const tried = chosen === null || trials.some(({ amount }) => amount === chosen.amount) ? trials : [...trials, chosen];
  return [...tried]
    .sort((a, b) => a.amount - b.amount)
    .map(({ amount, result }) => ({
      amount: sayValue(amount, amountUnit),
      result: sayValue(result * scale, unit),
      chosen: amount === chosen?.amount,
    }));
}
