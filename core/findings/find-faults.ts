import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { FINDINGS } from './finding-registry.js';
import type { Finding, FindingId } from './finding.js';

export interface Faults {
  /** The costliest first. */
  readonly findings: readonly Finding[];
  /** Names of what was looked for and is not there. */
  readonly lookedForAndNotThere: readonly string[];
  /** What could not be looked for, and why. */
  readonly unjudged: readonly { readonly id: FindingId; readonly reason: string }[];
}

/** Looks for every declared fault. What is found is ordered by severity; equal ones stay in the order of the registry. */
export function findFaults(
  measured: Measurements,
  stems: readonly Stem[],
  declarations: readonly FindingDeclaration[] = FINDINGS,
): Faults {
  const looked = declarations.map((declaration) => ({ declaration, found: declaration.find(measured, stems) }));
  const empty = looked.filter(({ found }) => found.length === 0).map(({ declaration }) => declaration);
  const reasons = empty.map((declaration) => ({ declaration, reason: declaration.unjudged(measured) }));
  return {
    findings: looked.flatMap(({ found }) => found).sort((a, b) => b.severity - a.severity),
    lookedForAndNotThere: reasons.filter(({ reason }) => reason === null).map(({ declaration }) => declaration.name),
    unjudged: reasons.flatMap(({ declaration, reason }) => (reason === null ? [] : [{ id: declaration.id, reason }])),
  };
}
