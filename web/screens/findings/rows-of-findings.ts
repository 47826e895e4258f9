import type { Finding } from '../../../core/findings/finding.js';

/** The finding that each row of the strip names: the chosen one where it lies there, else the costliest. */
export function rowsOfFindings(
  findings: readonly Finding[],
  chosen: number | null,
): { readonly clearance: number | null; readonly notes: number | null } {
  const onHits = (finding: Finding | undefined): boolean => (finding?.where.hits_s.length ?? 0) > 0;
  const onNotes = (finding: Finding | undefined): boolean => !onHits(finding) && (finding?.where.notes.length ?? 0) > 0;
  const first = (lies: (finding: Finding | undefined) => boolean): number | null => {
    if (chosen !== null && lies(findings[chosen])) return chosen;
    const at = findings.findIndex((finding) => lies(finding));
    return at < 0 ? null : at;
  };
  return { clearance: first(onHits), notes: first(onNotes) };
}
