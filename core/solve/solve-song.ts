import type { Measurements } from '../measure/measurements.js';
import type { ProofRow } from '../proof/compare-measurements.js';
import type { Treatment } from '../treatment/treatment.js';
import { withWishesCorrected } from './correct-wishes.js';
import type { StageSolved, WalkResult } from './path-walk.js';
import { amountsOf, tryWhole, type Rounds } from './solve-round.js';
import { formatBest, SolveWatch, type Checkpoint, type SolveListener } from './solve-watch.js';
import { USUAL_RENDERS } from './solver-registry.js';
import type { StageRequest } from './stage-request.js';
import type { SolveSong } from './stage-solver.js';
import { withHarmTurnedDown } from './turn-down.js';

export interface SolveQuestion {
  readonly song: SolveSong;
  /** All stages off. */
  readonly base: Treatment;
  readonly requests: readonly StageRequest[];
  readonly progress?: SolveListener;
  /** Asked again and again whether to go on; without it solving runs to its end. */
  readonly checkpoint?: Checkpoint;
}

export interface Solution {
  readonly treatment: Treatment;
  readonly stages: readonly StageSolved[];
  /** The treated song measured, from the sound in memory (the proof measures the files). */
  readonly after: Measurements;
  readonly rows: readonly ProofRow[];
  /** What is still worse by more than its tolerance although stages were turned down. */
  readonly harm: readonly ProofRow[];
  readonly walk: WalkResult;
  readonly renders: number;
  /** What is kept, in a sentence, where solving was stopped; else null. */
  readonly stopped: string | null;
}

/**
 * Finds the treatment that meets the wishes: one walk in the signal's order, then the whole song is measured. Where a measure
 * is worse by more than its tolerance, the stages that can be to blame are turned down together to the largest share that does
 * no harm; what that leaves unreached is said. Bounded, without chance: the same question gives the same treatment. A stopped
 * one gives the best it had found.
 */
export async function solveSong(question: SolveQuestion): Promise<Solution> {
  const { song, base, requests, progress, checkpoint } = question;
  const watch = new SolveWatch(expectedRenders(requests), progress, checkpoint);
  const rounds: Rounds = { song, base, watch, solved: new Map() };
  let trial = await tryWhole(rounds, { requests, amounts: new Map(), turnedDown: new Map() });
  const inFirstWalk = watch.stopped;
  if (!watch.stopped) trial = await withHarmTurnedDown(rounds, trial);
  if (!watch.stopped) {
    const amounts = new Map([...amountsOf(trial.walk), ...trial.attempt.amounts]);
    trial = await withWishesCorrected(rounds, { ...trial, attempt: { ...trial.attempt, amounts } });
  }
  const { walk, after, rows, harm } = trial;
  const stopped = watch.stopped ? stoppedSentence(watch, walk.stages, inFirstWalk) : null;
  return { treatment: walk.treatment, stages: walk.stages, after, rows, harm, walk, renders: watch.renders, stopped };
}

function expectedRenders(requests: readonly StageRequest[]): number {
  return requests.reduce((sum, { address }) => sum + (USUAL_RENDERS[address.stage] ?? 1), 0);
}

function stoppedSentence(watch: SolveWatch, stages: readonly StageSolved[], inFirstWalk: boolean): string {
  if (stages.every(({ solution }) => !solution.on)) return 'Stopped. Nothing was solved yet; every stage is off.';
  const of = `The best of ${watch.renders} renders is kept`;
  if (!inFirstWalk) return `Stopped while stages were turned down or raised once more. ${of}.`;
  return watch.bestWhenStopped === null ? `Stopped. ${of}.` : `Stopped. ${of}: ${formatBest(watch.bestWhenStopped)}.`;
}
