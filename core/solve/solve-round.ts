import { mergedParts, PART_NAMES, type MeasuredParts } from '../measure/measure-parts.js';
import type { Measurements } from '../measure/measurements.js';
import type { SongSound } from '../measure/song-sound.js';
import { compareMeasurements, harmOf, type ProofRow } from '../proof/compare-measurements.js';
import { formatAddress } from '../treatment/paths.js';
import type { Treatment } from '../treatment/treatment.js';
import type { MeasureId } from '../wishes/statistics.js';
import { partsWithPauses } from './measure-with-pauses.js';
import { walkPath, type FoundAmount, type TurnedDown, type WalkQuestion, type WalkResult } from './path-walk.js';
import type { SolveWatch } from './solve-watch.js';
import { SEARCHED } from './solver-registry.js';
import type { StageRequest } from './stage-request.js';
import type { SolveSong } from './stage-solver.js';

/** What all rounds of one question share. */
export interface Rounds {
  readonly song: SolveSong;
  readonly base: Treatment;
  readonly watch: SolveWatch;
  readonly solved: WalkQuestion['solved'];
}

/** What one round tries. */
export interface Attempt {
  readonly requests: readonly StageRequest[];
  /** Amounts that an earlier round has found, by address: they are not searched for again. */
  readonly amounts: ReadonlyMap<string, FoundAmount>;
  readonly turnedDown: ReadonlyMap<string, TurnedDown>;
}

/** A walk along the whole path, measured. */
export interface Trial {
  readonly attempt: Attempt;
  readonly walk: WalkResult;
  readonly after: Measurements;
  readonly rows: readonly ProofRow[];
  readonly harm: readonly ProofRow[];
}

/** Walks the whole song and measures everything. */
export async function tryWhole(rounds: Rounds, attempt: Attempt): Promise<Trial> {
  const walk = await walkFor(rounds, attempt);
  return measuredTrial(rounds, attempt, walk, {});
}

/**
 * Walks the whole song and measures the guarded measures first; the others only where these show no harm.
 * @returns the rows that were measured, and the trial where it is complete.
 */
export async function tryGuarded(
  rounds: Rounds,
  attempt: Attempt,
  guarded: readonly MeasureId[],
): Promise<{ readonly rows: readonly ProofRow[]; readonly trial: Trial | null }> {
  const { song, watch } = rounds;
  const walk = await walkFor(rounds, attempt);
  const parts = await partsWithPauses(treatedSound(song.source, walk), song.known, guarded, () => watch.look());
  const rows = compareMeasurements(song.measured, parts);
  if (watch.stopped || harmOf(rows).length > 0) return { rows, trial: null };
  const trial = await measuredTrial(rounds, attempt, walk, parts);
  return { rows: trial.rows, trial };
}

function walkFor({ song, base, watch, solved }: Rounds, attempt: Attempt): Promise<WalkResult> {
  return walkPath({ song, base, solved, watch, ...attempt });
}

async function measuredTrial(
  { song, watch }: Rounds,
  attempt: Attempt,
  walk: WalkResult,
  known: MeasuredParts,
): Promise<Trial> {
  watch.begin('measuring the treated song', null);
  const others = PART_NAMES.filter((name) => known[name] === undefined);
  const sound = treatedSound(song.source, walk);
  const after = mergedParts(song.known, [known, await partsWithPauses(sound, song.known, others, () => watch.look())]);
  const rows = compareMeasurements(song.measured, after);
  return { attempt, walk, after, rows, harm: harmOf(rows) };
}

/** The song with its treated buses. Single tracks are not kept: they stand in the buses. */
export function treatedSound(source: SongSound, walk: Pick<WalkResult, 'kick' | 'bass'>): SongSound {
  return { ...source, kick: walk.kick, bass: walk.bass, tracks: { kick: [], bass: [], rest: [] } };
}

/** What the searches of a walk have found. */
export function amountsOf({ stages }: WalkResult): Map<string, FoundAmount> {
  return new Map(
    stages.flatMap(({ address, solution: { on, amountKey, settings, trials } }) => {
      const value = amountKey === null ? undefined : settings[amountKey];
      if (!on || !SEARCHED.has(address.stage) || amountKey === null || typeof value !== 'number') return [];
      return [[formatAddress(address), { key: amountKey, value, trials }] as const];
    }),
  );
}
