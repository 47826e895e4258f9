import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import type { Finding, FindingId } from './finding.js';

/**
 * How a finding declares itself, once, in one file; `finding-registry.ts` lists it. What was looked for and not found is said
 * from the same declaration.
 */
export interface FindingDeclaration {
  readonly id: FindingId;
  /** In a list of what was looked for: `rumble`, `cancelling lows`. */
  readonly name: string;
  /** What it is, when it is raised, in one or two sentences with the tolerances and their source. */
  readonly help: string;
  readonly leaveItWhen: string;
  /** Findings that may rightly come with it (the sweep test allows these and no others). */
  readonly companions: readonly FindingId[];
  /** The parts of the measurements it looks at, and no others: it can be judged as soon as these are at hand. */
  readonly reads: readonly (keyof Measurements)[];
  /** @returns none, one or (one per file or note) several. */
  find(measured: Measurements, stems: readonly Stem[]): Finding[];
  /** Why it could not be looked for (no bass, too few hits), or null. */
  unjudged(measured: Measurements): string | null;
}
