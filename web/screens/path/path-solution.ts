import type { StageSolved } from '../../../core/solve/path-walk.js';
import type { Solution } from '../../../core/solve/solve-song.js';
import { formatAddress } from '../../../core/treatment/paths.js';

/** What the page is given of a solution: everything but its sound. */
export type PathSolution = Pick<Solution, 'treatment' | 'stages' | 'after' | 'rows' | 'harm' | 'renders'>;

/** How the stage at an address was solved; null where nothing was asked of it. */
export function solvedAt(solution: PathSolution | null, address: string): StageSolved | null {
  return solution?.stages.find((stage) => formatAddress(stage.address) === address) ?? null;
}
