import type { Measurements } from '../measure/measurements.js';
import { valueOf, type Reading } from '../units/reading.js';
import { improvement, isSafe, readStatistic, STATISTICS } from '../wishes/statistics.js';
import type { MeasureId, StatisticDeclaration } from '../wishes/statistics.js';

/** `worse-within` lies inside the tolerance, `harm` does not; `moved` is a figure that is told and not judged. */
export type Verdict = 'better' | 'same' | 'worse-within' | 'harm' | 'moved' | 'not-compared';

/** One figure before and after. */
export interface ProofRow {
  readonly statistic: StatisticDeclaration;
  readonly before: Reading;
  readonly after: Reading;
  /** After minus before; null where either could not be measured. */
  readonly change: number | null;
  readonly verdict: Verdict;
}

/** The six measures, or those of them that were measured. */
type Compared = Partial<Pick<Measurements, MeasureId>>;

/** Lays every figure of the measures at hand beside its source, harm as plainly as gain. */
export function compareMeasurements(before: Compared, after: Compared): ProofRow[] {
  const atHand = STATISTICS.filter(({ measure }) => before[measure] !== undefined && after[measure] !== undefined);
  return atHand.map((statistic) => {
    const readBefore = readStatistic(before as Measurements, statistic);
    const readAfter = readStatistic(after as Measurements, statistic);
    const from = valueOf(readBefore);
    const to = valueOf(readAfter);
    const change = from === null || to === null ? null : to - from;
    return { statistic, before: readBefore, after: readAfter, change, verdict: verdictOf(statistic, from, to) };
  });
}

function verdictOf(statistic: StatisticDeclaration, before: number | null, after: number | null): Verdict {
  if (before === null || after === null) return 'not-compared';
  const gain = improvement(statistic, before, after);
  const shown = 0.5 * STEPS[statistic.digits]! * (statistic.unit === '%' ? 0.01 : 1);
  if (statistic.better === 'neither') return Math.abs(after - before) < shown ? 'same' : 'moved';
  if (Math.abs(gain) < shown) return 'same';
  if (gain > 0) return 'better';
  if (statistic.worseBy === null || -gain <= statistic.worseBy + 1e-9) return 'worse-within';
  return isSafe(statistic, after) ? 'worse-within' : 'harm';
}

/** The last digit shown, by the number of digits. */
const STEPS = [1, 0.1, 0.01, 0.001] as const;

/** The rows that are worse by more than their tolerance. */
export function harmOf(rows: readonly ProofRow[]): ProofRow[] {
  return rows.filter((row) => row.verdict === 'harm');
}
