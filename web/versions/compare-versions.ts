import { sayFigure } from '../../core/findings/say-figure.js';
import type { ProofRecord } from '../../core/session/session-format.js';
import { statisticAt } from '../../core/wishes/statistics.js';

/** One figure of two versions side by side, as it is shown. */
export interface ComparedFigure {
  readonly name: string;
  readonly one: string;
  readonly other: string;
  /** The other less the one, with its sign; empty where either is not known. */
  readonly difference: string;
}

export interface ComparedVersions {
  readonly differ: readonly ComparedFigure[];
  /** Figures that read the same to the digits that are shown. */
  readonly same: number;
}

type Rows = ProofRecord['rows'];

/** Lays the figures of two versions side by side. A figure that this program does not know is shown by its address. */
export function compareVersions(one: Rows, other: Rows): ComparedVersions {
  const addresses = [...new Set([...one, ...other].map(({ statistic }) => statistic))];
  const figures = addresses.map((address) => comparedFigure(address, one, other));
  const differ = figures.filter(
    ({ one, other, difference }) => one !== other && !/^[+\u2212]?0([.]0*)?\u00a0/.test(difference),
  );
  return { differ, same: figures.length - differ.length };
}

function comparedFigure(address: string, one: Rows, other: Rows): ComparedFigure {
  const { name = address, unit = '', digits = 2 } = statisticAt(address) ?? {};
  const scale = unit === '%' ? 100 : 1;
  const valueIn = (rows: Rows) => rows.find(({ statistic }) => statistic === address)?.after ?? null;
  const shown = (value: number | null) => (value === null ? 'not known' : sayFigure(value * scale, unit, digits));
  const [from, to] = [valueIn(one), valueIn(other)];
  const difference = from === null || to === null ? '' : signed((to - from) * scale, digits, unit);
  return { name, one: shown(from), other: shown(to), difference };
}

function signed(value: number, digits: number, unit: string): string {
  const plus = value > 0 && Number(value.toFixed(digits)) !== 0;
  return `${plus ? '+' : ''}${sayFigure(value, unit, digits)}`;
}
