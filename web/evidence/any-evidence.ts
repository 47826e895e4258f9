import { sayNumber } from '../../core/findings/say-figure.js';
import type { EvidenceValue, Finding } from '../../core/findings/finding.js';
import { overlaid, type Drawing } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import type { EvidenceContext, EvidencePanel, EvidenceTable } from './evidence-panel.js';
import { levelAxis, placeAxis, plotArea } from './plot-area.js';
import { splitKey } from './split-key.js';

/**
 * Evidence of a finding that has no figure of its own: its single figures as a table, and every set of lists of one length as
 * a plot of the first list of numbers that is not a place against the first that is (seconds or hertz), with all lists in the
 * table.
 */
export function anyEvidence({ finding }: EvidenceContext): EvidencePanel[] {
  return [...singleFigures(finding), ...listsOf(finding)];
}

function singleFigures({ evidence }: Finding): EvidencePanel[] {
  const entries = Object.entries(evidence).filter(([, value]) => !Array.isArray(value));
  if (entries.length === 0) return [];
  const rows = entries.map(([key, value]) => {
    const { name, unit } = splitKey(key);
    return [name, sayValue(value), unit];
  });
  return [
    {
      heading: 'What was measured',
      scope: '',
      axis: '',
      describes: rows.map((row) => row.join(' ').trim()).join(', ') + '.',
      height: () => 22 * rows.length + 6,
      draw: () => drawFigures(rows),
      table: { columns: [{ name: 'Figure' }, { name: 'Value', numbers: true }, { name: 'Unit' }], rows },
    },
  ];
}

function drawFigures(rows: readonly (readonly string[])[]): Drawing {
  return {
    strokes: [],
    labels: rows.flatMap(([name, value, unit], i) => [
      { x: 0, y: 22 * i + 16, text: name!, ink: 'ink-2' as const },
      { x: 190, y: 22 * i + 16, text: value!, ink: 'ink' as const, anchor: 'end' as const, strong: true },
      { x: 196, y: 22 * i + 16, text: unit!, ink: 'ink-2' as const },
    ]),
  };
}

function sayValue(value: EvidenceValue | undefined): string {
  if (value === null || value === undefined) return 'not measured';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'number'
    ? sayNumber(value, Number.isInteger(value) ? 0 : Math.abs(value) < 1 ? 3 : 1)
    : String(value);
}

type Lists = readonly (readonly [key: string, values: readonly (number | string | null)[]])[];

function listsOf({ evidence }: Finding): EvidencePanel[] {
  const byLength = new Map<number, [string, readonly (number | string | null)[]][]>();
  for (const [key, value] of Object.entries(evidence)) {
    if (!Array.isArray(value) || value.length === 0) continue;
    byLength.set(value.length, [
      ...(byLength.get(value.length) ?? []),
      [key, value as readonly (number | string | null)[]],
    ]);
  }
  return [...byLength.values()].map(panelOfLists);
}

const PLACES = /_(s|Hz|ms)$/;

function panelOfLists(lists: Lists): EvidencePanel {
  const table: EvidenceTable = {
    columns: lists.map(([key, values]) => {
      const { name, unit } = splitKey(key);
      return {
        name: unit === '' ? name : `${name}, ${unit}`,
        numbers: values.some((value) => typeof value === 'number'),
      };
    }),
    rows: lists[0]![1].map((_, i) => lists.map(([, values]) => sayValue(values[i]))),
  };
  const numeric = lists.filter(([, values]) => values.some((value) => typeof value === 'number'));
  const along = numeric.find(([key]) => PLACES.test(key));
  const up = numeric.find(([key]) => !PLACES.test(key)) ?? numeric.find((list) => list !== along);
  const name = up === undefined ? 'list' : splitKey(up[0]).name;
  const axis =
    up === undefined
      ? ''
      : `${splitKey(up[0]).unit || name}${along === undefined ? '' : `, over ${splitKey(along[0]).name}, ${splitKey(along[0]).unit}`}`;
  return {
    heading: name.charAt(0).toUpperCase() + name.slice(1),
    scope: '',
    axis,
    describes: `${lists[0]![1].length} values of ${name}.`,
    height: () => (up === undefined ? 0 : 200),
    draw: (width) =>
      up === undefined ? { strokes: [], labels: [] } : drawLists(up[1], along?.[1] ?? null, width, table),
    table,
  };
}

function drawLists(
  values: readonly (number | string | null)[],
  along: readonly (number | string | null)[] | null,
  width: number,
  table: EvidenceTable,
): Drawing {
  const points = values.flatMap((value, i): [number, number, number][] => {
    const at = along === null ? i : along[i];
    return typeof value === 'number' && typeof at === 'number' ? [[at, value, i]] : [];
  });
  if (points.length === 0) return { strokes: [], labels: [] };
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  const spread = Math.max(...xs) - Math.min(...xs) || 1;
  const range = {
    from: Math.min(...xs) - 0.02 * spread,
    to: Math.max(...xs) + 0.02 * spread,
    least: Math.min(0, ...ys),
    most: Math.max(0, ...ys) || 1,
  };
  const area = plotArea(width, 10, 176, range);
  return overlaid([
    levelAxis(area, false),
    placeAxis(area, (value) => sayNumber(value, Number.isInteger(value) ? 0 : 1)),
    {
      strokes: [
        {
          path: points.map(([x, y]) => pathData.upright(area.x(x), area.y(0), area.y(y))).join(''),
          ink: 'ink',
          width: 1.4,
        },
        { path: pathData.level(area.left, area.right, area.y(0)), ink: 'rule-strong', width: 1 },
      ],
      labels: [],
      places: points.map(([x, , i]) => ({
        x: area.x(x),
        top: area.top,
        bottom: area.bottom,
        says: table.columns.map(({ name }, c) => `${name} ${table.rows[i]![c]}`).join(', '),
      })),
    },
  ]);
}
