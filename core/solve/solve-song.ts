import type { Measurements } from '../measure/measurements.js';
import type { SongSound } from '../measure/song-sound.js';
import { compareMeasurements, harmOf, type ProofRow } from '../proof/compare-measurements.js';
import { formatAddress } from '../treatment/paths.js';
import { declarationOf } from '../treatment/stage-registry.js';
import { shortfall } from '../wishes/wish-text.js';
import type { StageId, Treatment } from '../treatment/treatment.js';
import { walkPath, type StageSolved, type WalkQuestion, type WalkResult } from './path-walk.js';
import { measureWithPauses } from './measure-with-pauses.js';
import { formatBest, SolveWatch, type Checkpoint, type SolveListener } from './solve-watch.js';
import { USUAL_RENDERS } from './solver-registry.js';
import type { SolveSong } from './stage-solver.js';
import type { StageRequest } from './stage-request.js';
import type { MeasureId } from '../wishes/statistics.js';

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
 * no harm; what that leaves unreached is said. Bounded, without chance: the same question gives the same treatment.
 */
export async function solveSong(question: SolveQuestion): Promise<Solution> {
  const { requests, progress, checkpoint } = question;
  const watch = new SolveWatch(expectedRenders(requests), progress, checkpoint);
  const rounds: Rounds = { question, watch, solved: new Map(), strengths: new Map() };
  let trial = await tryWith(rounds, requests);
  const first = watch.stopped;
  if (!watch.stopped) trial = await turnedDown(rounds, trial);
  if (!watch.stopped) trial = await corrected(rounds, trial);
  const { walk, after, rows, harm } = trial;
  const stopped = watch.stopped ? stoppedSentence(watch, walk.stages, first) : null;
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

/** The trial in which the stages to blame do no harm, or as little as was found before solving was stopped. */
async function turnedDown(rounds: Rounds, first: Trial): Promise<Trial> {
  const blamed = blamedStages(first);
  if (blamed.length === 0) return first;
  let trial = first;
  const search = new StrengthSearch();
  for (let share = search.next(false); share !== null;) {
    for (const address of blamed) rounds.strengths.set(address, share);
    const next = await tryWith(rounds, first.requests);
    if (rounds.watch.stopped) return trial;
    const harmless = next.harm.length === 0;
    if (harmless || search.best === null) trial = next;
    share = search.next(harmless);
  }
  for (const address of blamed) rounds.strengths.set(address, search.best ?? 0);
  return trial;
}

/** The trial with the wishes raised by what the end of the path took from them, as long as that does no more harm. */
async function corrected(rounds: Rounds, first: Trial): Promise<Trial> {
  let trial = first;
  for (let round = 0; round < MOST_CORRECTIONS; round++) {
    const requests = correctedRequests(trial);
    if (requests === null) break;
    const next = await tryWith(rounds, requests);
    if (rounds.watch.stopped || next.harm.length > trial.harm.length) break;
    trial = next;
  }
  return trial;
}

/** Walks made again where a wish that was met at its stage is missed by a little at the end of the path. */
const MOST_CORRECTIONS = 2;
/** Only what is missed by less than this is corrected: more is out of reach for reasons that the stage has said. */
const LARGEST_CORRECTION: Readonly<Record<string, number>> = { LU: 3, dB: 2, '%': 0.15 };
const SPARE = 1.1;

/**
 * The requests with the wishes raised by what the end of the path takes from them (trim and make room lower the bass after
 * harmonics were solved); null where every wish that was met at its stage is met at the end too.
 */
function correctedRequests(trial: Trial): StageRequest[] | null {
  let changed = false;
  const raised = trial.requests.map((request) => {
    const solved = trial.walk.stages.find(({ address }) => formatAddress(address) === formatAddress(request.address));
    const wish = request.asked ?? request.wish;
    if (wish === null || solved?.solution.met !== true || !solved.solution.on) return request;
    if (declarationOf(request.address.stage).wish?.source !== 'file') return request;
    const row = trial.rows.find(({ statistic }) => statistic.address === wish.statistic);
    if (row === undefined || row.after.kind === 'unmeasurable') return request;
    const missed = shortfall(wish, row.after.value);
    if (missed === 0 || missed > (LARGEST_CORRECTION[row.statistic.unit] ?? 0)) return request;
    changed = true;
    const { low, high } = request.wish ?? wish;
    const more = {
      ...wish,
      low: low === null ? null : low + (row.after.value < (wish.low ?? -Infinity) ? SPARE * missed : 0),
      high: high === null ? null : high - (row.after.value > (wish.high ?? Infinity) ? SPARE * missed : 0),
    };
    return { ...request, wish: more, asked: wish };
  });
  return changed ? raised : null;
}

/**
 * The largest share of their amounts at which the blamed stages do no harm, by halving: 1/2, then up or down. The last one tried
 * is 0 where no share was harmless.
 */
class StrengthSearch {
  /** The largest harmless share so far. */
  best: number | null = null;
  private low = 0;
  private high = 1;
  private tried = 0;
  private current: number | null = null;

  /** @param harmless how the last share did. @returns the next share to try, null at the end. */
  next(harmless: boolean): number | null {
    if (this.current !== null) {
      if (harmless) {
        this.best = this.current;
        this.low = this.current;
      } else this.high = this.current;
    }
    if (this.current === 0 || this.tried >= MOST_SHARES) {
      const triedOff = this.current === 0;
      if (this.best !== null || triedOff) return null;
      this.current = 0;
      return 0;
    }
    this.tried += 1;
    this.current = 0.5 * (this.low + this.high);
    return this.current;
  }
}

/** Shares tried before the blamed stages are switched off. */
const MOST_SHARES = 4;

/** What all rounds of one question share. */
interface Rounds {
  readonly question: SolveQuestion;
  readonly watch: SolveWatch;
  readonly solved: WalkQuestion['solved'];
  /** Shares of the stages that are turned down, by address. */
  readonly strengths: Map<string, number>;
}

interface Trial {
  readonly requests: readonly StageRequest[];
  readonly walk: WalkResult;
  readonly after: Measurements;
  readonly rows: readonly ProofRow[];
  readonly harm: readonly ProofRow[];
}

async function tryWith(
  { question, watch, solved, strengths }: Rounds,
  requests: readonly StageRequest[],
): Promise<Trial> {
  const { song, base } = question;
  const walk = await walkPath({ song, base, requests, strengths, solved, watch });
  watch.begin('measuring the treated song', null);
  const after = await measureWithPauses(treatedSound(song.source, walk), song.known, () => watch.look());
  const rows = compareMeasurements(song.measured, after);
  return { requests, walk, after, rows, harm: harmOf(rows) };
}

/** The song with its treated buses. Single tracks are not kept: they stand in the buses. */
export function treatedSound(source: SongSound, walk: Pick<WalkResult, 'kick' | 'bass'>): SongSound {
  return { ...source, kick: walk.kick, bass: walk.bass, tracks: { kick: [], bass: [], rest: [] } };
}

/**
 * Which stages can make which measure worse (measured for this project, docs/decisions.md). A stage that is not named for a
 * measure is never turned down for it.
 */
const MAY_HARM: Readonly<Record<MeasureId, readonly StageId[]>> = {
  clearance: ['harmonics', 'saturate', 'steady', 'even'],
  agreement: ['saturate', 'harmonics', 'steady', 'make-room', 'even'],
  centre: ['widen'],
  evenness: ['make-room', 'harmonics', 'saturate', 'onset', 'steady'],
  carry: ['make-room', 'even', 'steady'],
  headroom: ['steady', 'harmonics', 'onset', 'saturate', 'even'],
};

/** Addresses of the stages that are on and can be to blame for what became worse. */
function blamedStages(trial: Trial): string[] {
  const suspects = new Set(trial.harm.flatMap(({ statistic }) => MAY_HARM[statistic.measure]));
  return trial.walk.stages
    .filter(({ address, solution }) => solution.on && suspects.has(address.stage))
    .map(({ address }) => formatAddress(address));
}
