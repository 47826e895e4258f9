import { sayNumber } from '../../../core/findings/say-figure.js';
import { TOLERANCES } from '../../../core/findings/tolerances.js';
import type { Measurements } from '../../../core/measure/measurements.js';
import { valueOf } from '../../../core/units/reading.js';
import {
  readStatistic,
  STATISTICS,
  type MeasureId,
  type StatisticDeclaration,
} from '../../../core/wishes/statistics.js';
import { sayLevel } from '../../strip/say-level.js';

/** One measure: its headline, a second reading, and where its tolerance lies. */
export interface MeasureRow {
  readonly id: MeasureId;
  /** The statistic of its headline. */
  readonly address: string;
  readonly name: string;
  /** What the figure is, in full. */
  readonly means: string;
  readonly value: number | null;
  readonly shown: string;
  readonly unit: string;
  /** Why there is no figure. */
  readonly reason: string | null;
  readonly second: string;
  readonly treated: number | null;
  readonly treatedShown: string;
  readonly tolerance: number | null;
  readonly better: StatisticDeclaration['better'];
  readonly toleranceShown: string;
}

/** Where a headline becomes a finding. A measure that is not named here has a ruler without tolerance. */
const TOLERANCE_AT: Readonly<Record<string, number>> = {
  'clearance.p10_dB': TOLERANCES.covered_dB,
  'agreement.median_dB': TOLERANCES.agreement_dB,
  'centre.foldDownLoss_dB': TOLERANCES.foldDownLoss_dB,
  'evenness.spread_dB': TOLERANCES.spread_dB,
  'carry.laptop_LU': TOLERANCES.laptopCarry_LU,
  'headroom.cost_dB': TOLERANCES.lowsCost_dB,
};

/** The second reading of a measure: which figure, and the word behind it. */
const SECOND: Readonly<Record<string, readonly [address: string, word: string]>> = {
  clearance: ['clearance.share2dB', 'clear'],
  carry: ['carry.heardHarmonicsShare', 'heard'],
  headroom: ['headroom.left_dB', 'left'],
};

/** Figures where a sign says more than the bare number. */
const SIGNED = new Set(['clearance', 'agreement', 'carry']);

/** A row for every measure that declares a headline, in the order of its declaration. */
export function measureRows(source: Measurements, treated: Measurements | null): MeasureRow[] {
  return STATISTICS.filter(({ headline }) => headline).map((statistic) => rowOf(statistic, source, treated));
}

function rowOf(statistic: StatisticDeclaration, source: Measurements, treated: Measurements | null): MeasureRow {
  const { address, measure, name, unit, better } = statistic;
  const reading = readStatistic(source, statistic);
  const value = valueOf(reading);
  const after = treated === null ? null : valueOf(readStatistic(treated, statistic));
  const tolerance = TOLERANCE_AT[address] ?? null;
  return {
    id: measure,
    address,
    name: measure.charAt(0).toUpperCase() + measure.slice(1),
    means: name,
    value,
    shown: value === null ? '' : figureOf(statistic, value),
    unit,
    reason: reading.kind === 'unmeasurable' ? reading.reason : null,
    second: secondOf(measure, source),
    treated: after,
    treatedShown: after === null ? '' : figureOf(statistic, after),
    tolerance,
    better,
    toleranceShown:
      tolerance === null ? '' : `${sayFigureOf(measure, tolerance)} or ${better === 'higher' ? 'more' : 'less'}`,
  };
}

function figureOf({ measure, digits, unit }: StatisticDeclaration, value: number): string {
  const shown = unit === '%' ? 100 * value : value;
  return SIGNED.has(measure) ? sayLevel(shown, digits) : sayNumber(shown, digits);
}

function sayFigureOf(measure: string, value: number): string {
  return SIGNED.has(measure) ? sayLevel(value, 0) : sayNumber(value, 0);
}

function secondOf(measure: string, source: Measurements): string {
  const second = SECOND[measure];
  const statistic = second === undefined ? undefined : STATISTICS.find(({ address }) => address === second[0]);
  if (second === undefined || statistic === undefined) return '';
  const value = valueOf(readStatistic(source, statistic));
  if (value === null) return '';
  return statistic.unit === '%'
    ? `${sayNumber(100 * value, 0)}\u00a0% ${second[1]}`
    : `${sayNumber(value)}\u00a0${statistic.unit} ${second[1]}`;
}

/**
 * The scale of a ruler: the tolerance in its middle and the reading on it, as wide as three tolerances or as the readings ask.
 */
export function rulerRange({ tolerance, value, treated }: MeasureRow): readonly [number, number] {
  const middle = tolerance ?? value ?? 0;
  const readings = [value, treated].filter((reading): reading is number => reading !== null);
  const reach = Math.max(3, Math.abs(middle), ...readings.map((reading) => 1.15 * Math.abs(reading - middle)));
  return [middle - reach, middle + reach];
}
