import type { Faults } from '../../../core/findings/find-faults.js';
import { FINDINGS } from '../../../core/findings/finding-registry.js';
import type { Finding } from '../../../core/findings/finding.js';

/** What the engineer said of a finding; by its id, so that one word holds for all findings of a kind. */
export interface FindingDecision {
  readonly finding: string;
  readonly action: 'treat' | 'leave' | 'later';
  readonly reason: string;
}

/** How a finding stands, as the list says it. */
export interface FindingStanding {
  readonly kind: 'open' | 'treated' | 'left' | 'put-off' | 'mended' | 'would-be-mended';
  readonly words: string;
}

/**
 * How a finding stands: what was decided of it; or, where nothing was, that another's treatment mends it. Solved, it is mended
 * where it is no longer found; unsolved, it would be where a treated finding asks for the same stage at the same place.
 */
export function findingStanding(
  findings: readonly Finding[],
  index: number,
  decisions: readonly FindingDecision[],
  after: Faults | null,
): FindingStanding {
  const finding = findings[index]!;
  const decision = decisions.find(({ finding: id }) => id === finding.id);
  if (decision?.action === 'treat') {
    const { stage } = finding.suggest;
    return { kind: 'treated', words: stage === 'none' ? 'treated' : `treated: ${stage.replace('-', ' ')}` };
  }
  if (decision?.action === 'leave') {
    return { kind: 'left', words: decision.reason === '' ? 'left' : `left: \u201c${decision.reason}\u201d` };
  }
  const treated = findings.flatMap(({ id }, i) =>
    i !== index && decisions.some((other) => other.finding === id && other.action === 'treat') ? [i] : [],
  );
  const mending = after === null ? sameStage(findings, index, treated) : mendedBy(findings, index, treated, after);
  if (mending.length > 0) {
    const numbers = mending.map((i) => i + 1).join(', ');
    return after === null
      ? { kind: 'would-be-mended', words: `expected to be mended with ${numbers}` }
      : { kind: 'mended', words: `mended with ${numbers}` };
  }
  return decision?.action === 'later' ? { kind: 'put-off', words: 'put off' } : { kind: 'open', words: 'open' };
}

function sameStage(findings: readonly Finding[], index: number, treated: readonly number[]): number[] {
  const { address, stage } = findings[index]!.suggest;
  return stage === 'none' ? [] : treated.filter((i) => findings[i]!.suggest.address === address);
}

/** The treated findings that may be thanked: those declared as companions or at the same stage; all where none is. */
function mendedBy(findings: readonly Finding[], index: number, treated: readonly number[], after: Faults): number[] {
  const finding = findings[index]!;
  if (after.findings.some((still) => isSame(still, finding))) return [];
  const near = treated.filter((i) => {
    const other = findings[i]!;
    const companions = FINDINGS.find(({ id }) => id === other.id)?.companions ?? [];
    return other.suggest.address === finding.suggest.address || companions.includes(finding.id);
  });
  return near.length > 0 ? near : [...treated];
}

function isSame(a: Finding, b: Finding): boolean {
  return a.id === b.id && a.where.files.join() === b.where.files.join();
}
