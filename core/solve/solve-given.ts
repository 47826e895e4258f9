import { asGiven, type StagePlace, type StageSolution } from './stage-solver.js';

/** Align and clean: what the finding measured (or a hand set) is the treatment; there is nothing to search. */
export function solveGiven(place: StagePlace): StageSolution {
  return asGiven(place);
}
