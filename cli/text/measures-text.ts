import type { Measurements } from '../../core/measure/measurements.js';
import type { ProofRow, Verdict } from '../../core/proof/compare-measurements.js';
import { readStatistic, STATISTICS } from '../../core/wishes/statistics.js';
import { changeText, intervalText, readingText } from './figure-text.js';
import { formatTable } from './table.js';

const right = { align: 'right' as const };

/** Every figure of the six measures, with its interval, or why it could not be measured. */
export function measuresText(measured: Measurements, width: number): string {
  const rows = STATISTICS.map((statistic) => {
    const reading = readStatistic(measured, statistic);
    const { unit, digits, name } = statistic;
    const remark = reading.kind === 'unmeasurable' ? reading.reason : '';
    return [name, readingText(reading, unit, digits), intervalText(reading, unit, digits), remark];
  });
  const columns = [
    { title: 'measure' },
    { title: 'value', ...right },
    { title: '90 % within', ...right },
    { title: '' },
  ];
  return formatTable(columns, rows, width);
}

const VERDICTS: Readonly<Record<Verdict, string>> = {
  better: 'better',
  same: 'the same',
  'worse-within': 'worse, within tolerance',
  harm: 'WORSE',
  moved: '',
  'not-compared': 'not compared',
};

/** Before and after, harm as plainly as gain. */
export function proofText(rows: readonly ProofRow[], width: number): string {
  const columns = [
    { title: 'measure' },
    { title: 'before', ...right },
    { title: 'after', ...right },
    { title: 'change', ...right },
    { title: '' },
  ];
  const cells = rows.map(({ statistic: { name, unit, digits }, before, after, change, verdict }) => [
    name,
    readingText(before, unit, digits),
    readingText(after, unit, digits),
    change === null ? '\u2013' : changeText(change, unit, digits),
    VERDICTS[verdict],
  ]);
  return formatTable(columns, cells, width);
}
