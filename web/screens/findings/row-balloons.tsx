import type { Finding } from '../../../core/findings/finding.js';
import { Balloon } from '../../marks/Balloon.js';
import type { SongStripProps } from '../../strip/SongStrip.js';
import { rowsOfFindings } from './rows-of-findings.js';

/** The balloons behind the names of the strip's rows: which findings lie in which row. */
export function rowBalloons(
  findings: readonly Finding[],
  chosen: number | null,
): NonNullable<SongStripProps['balloons']> {
  const { clearance, notes } = rowsOfFindings(findings, chosen);
  const balloon = (index: number | null) =>
    index === null ? null : <Balloon mark={String(index + 1)} chosen={index === chosen} />;
  return { clearance: balloon(clearance), notes: balloon(notes) };
}
