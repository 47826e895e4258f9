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
  return findFaultsSoFar(measured, stems, declarations);
}

/**
 * The same on the parts that are measured so far: only what they allow to be judged is looked for, and nothing is said of the
 * rest. On all parts it equals `findFaults`.
 */
export function findFaultsSoFar(
  parts: Partial<Measurements>,
  stems: readonly Stem[],
  declarations: readonly FindingDeclaration[] = FINDINGS,
): Faults {
  const looked = declarations
    .filter(({ reads }) => reads.every((name) => parts[name] !== undefined))
    .map((declaration) => {
      const read = onlyRead(declaration, parts);
      const found = declaration.find(read, stems);
      return { declaration, found, reason: found.length === 0 ? declaration.unjudged(read) : null };
    });
  const empty = looked.filter(({ found }) => found.length === 0);
  return {
    findings: looked.flatMap(({ found }) => found).sort((a, b) => b.severity - a.severity),
    lookedForAndNotThere: empty.filter(({ reason }) => reason === null).map(({ declaration }) => declaration.name),
    unjudged: empty.flatMap(({ declaration, reason }) => (reason === null ? [] : [{ id: declaration.id, reason }])),
  };
}

/** A declaration is shown nothing but what it says it reads, so that one that says too little fails everywhere. */
function onlyRead({ reads }: FindingDeclaration, parts: Partial<Measurements>): Measurements {
  return Object.fromEntries(reads.map((name) => [name, parts[name]])) as unknown as Measurements;
}
