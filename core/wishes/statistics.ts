import type { Measurements } from '../measure/measurements.js';
import { unmeasurable, type Reading } from '../units/reading.js';

export type MeasureId = 'clearance' | 'agreement' | 'centre' | 'evenness' | 'carry' | 'headroom';

/** One figure of the six measures that can be wanted, compared and proved; its address is its place in the JSON. */
export interface StatisticDeclaration {
  /** `clearance.share2dB`: the measure, then the figure with its unit. */
  readonly address: string;
  readonly measure: MeasureId;
  readonly name: string;
  readonly unit: string;
  /** `neither`: a figure that is told and not judged. */
  readonly better: 'higher' | 'lower' | 'neither';
  /** How much worse a print may read before it counts as harm; null where the figure is information. */
  readonly worseBy: number | null;
  /** On this side of it the figure is so good that no loss counts as harm; null where there is no such side. */
  readonly safe: number | null;
  /** Shown first for its measure. */
  readonly headline: boolean;
  /** Digits after the point when shown. */
  readonly digits: number;
}

function statistic(
  address: string,
  name: string,
  unit: string,
  better: StatisticDeclaration['better'],
  worseBy: number | null,
  headline = false,
  digits = 1,
  safe: number | null = null,
): StatisticDeclaration {
  const measure = address.split('.')[0] as MeasureId;
  return { address, measure, name, unit, better, worseBy, safe, headline, digits };
}

/** In the order in which they are shown. Tolerances: docs/decisions.md, "worse by more than its tolerance". */
export const STATISTICS: readonly StatisticDeclaration[] = [
  statistic('clearance.p10_dB', 'clearance, lowest tenth of hits', 'dB', 'higher', 0.3, true, 1, 6),
  statistic('clearance.median_dB', 'clearance, middle hit', 'dB', 'higher', 0.3, false, 1, 6),
  statistic('clearance.share2dB', 'hits at least 2 dB clear', '%', 'higher', null, false, 0),
  statistic('agreement.median_dB', 'agreement, middle hit', 'dB', 'higher', 0.5, true),
  statistic('agreement.p10_dB', 'agreement, lowest tenth of hits', 'dB', 'higher', null),
  statistic('centre.foldDownLoss_dB', 'fold-down loss, 20 to 120 Hz', 'dB', 'lower', 0.1, true, 2),
  statistic('evenness.spread_dB', 'spread of note levels', 'dB', 'lower', 0.5, true, 1, 3),
  statistic('evenness.pitchDeviation_dB', 'furthest pitch from the line', 'dB', 'lower', null),
  statistic('evenness.asHeard_dB', 'spread as heard, 60 phon', 'dB', 'neither', null),
  statistic('carry.laptop_LU', 'carry on a laptop', 'LU', 'higher', 0.5, true, 1, -8),
  statistic('carry.heardHarmonicsShare', 'notes with two harmonics in a row heard', '%', 'higher', null, false, 0),
  statistic('carry.phone_LU', 'carry on a phone', 'LU', 'higher', null),
  statistic('headroom.cost_dB', 'what the lows cost in peak level', 'dB', 'lower', 1, true, 1, 3),
  statistic('headroom.left_dB', 'left to 0 dBTP, all stems', 'dB', 'higher', null),
  statistic('headroom.integrated_LUFS', 'loudness of all stems', 'LUFS', 'neither', null),
];

/** @returns the declaration of a statistic, or undefined where no measure has it. */
export function statisticAt(address: string): StatisticDeclaration | undefined {
  return STATISTICS.find((declaration) => declaration.address === address);
}

/** Reads one figure out of the measurements. */
export function readStatistic(measured: Measurements, { measure, address }: StatisticDeclaration): Reading {
  const result = measured[measure];
  if (result.kind === 'unmeasurable') return result;
  const reading = (result as unknown as Record<string, Reading | undefined>)[address.slice(measure.length + 1)];
  return reading ?? unmeasurable(`${address} was not measured`);
}

/** How much better (> 0) or worse (< 0) `after` is than `before`, in the statistic's own unit. */
export function improvement({ better }: StatisticDeclaration, before: number, after: number): number {
  if (better === 'neither') return 0;
  return better === 'higher' ? after - before : before - after;
}

/** Whether a figure is so good that a loss on the way to it does no harm. */
export function isSafe({ better, safe }: StatisticDeclaration, value: number): boolean {
  if (safe === null) return false;
  return better === 'higher' ? value >= safe : value <= safe;
}
