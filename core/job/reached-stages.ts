import type { SongProof } from './prove-song.js';
import type { TreatOutcome } from './treat-song.js';
import { lowsEnergy } from '../measure/lows-energy.js';
import type { StageSolved } from '../solve/path-walk.js';
import type { Solution } from '../solve/solve-song.js';
import { formatAddress } from '../treatment/paths.js';
import { declarationOf } from '../treatment/stage-registry.js';
import { power_to_dB } from '../units/decibels.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';
import { met } from '../wishes/wish-text.js';
import type { Wish } from '../wishes/wish.js';

/** What was wanted of one stage, what it reached, and where that was measured. */
export interface ReachedStage {
  readonly address: string;
  readonly on: boolean;
  readonly because: readonly string[];
  readonly wanted: Wish | null;
  readonly statistic: string | null;
  readonly reached: Reading;
  readonly source: 'file' | 'lane' | 'engine';
  readonly met: boolean | null;
  readonly remark: string | null;
}

/** Wanted and reached per stage: from the printed files where the figure is in a file, else from the lane or the engine. */
export function reachedStages(
  { solution }: { readonly solution: Pick<Solution, 'stages'> | null },
  proof: Pick<SongProof, 'rows'>,
): ReachedStage[] {
  return (solution?.stages ?? []).map((stage) => reachedStage(stage, proof));
}

function reachedStage({ address, request, solution }: StageSolved, proof: Pick<SongProof, 'rows'>): ReachedStage {
  const declared = declarationOf(address.stage).wish;
  const statistic = request.wish?.statistic ?? declared?.statistic ?? null;
  const row = proof.rows.find((one) => one.statistic.address === statistic);
  const fromFile = declared?.source === 'file' && row !== undefined && solution.on;
  const reached = fromFile
    ? row.after
    : solution.reached === null
      ? unmeasurable('this stage has no figure of its own')
      : figure(solution.reached);
  const wanted = request.asked ?? request.wish;
  const judged = wanted !== null && reached.kind === 'figure' ? met(wanted, reached.value) : null;
  return {
    address: formatAddress(address),
    on: solution.on,
    because: request.because,
    wanted,
    statistic,
    reached,
    source: fromFile ? 'file' : (declared?.source ?? 'engine'),
    met: fromFile ? judged : solution.met,
    remark: solution.remark,
  };
}

/** Energy of kick and bass, 30 to 150 Hz, as it leaves trim, against the source; null where nothing was treated. */
export function lowsAtTrim_dB({ inspection, solution }: TreatOutcome): number | null {
  const bass = solution?.walk.bassLowsAtTrim ?? null;
  if (solution === null || bass === null) return null;
  const { sound } = inspection.song;
  const source = lowsEnergy(sound.kick) + lowsEnergy(sound.bass);
  const treated = lowsEnergy(solution.walk.kick) + bass;
  return source > 0 && treated > 0 ? power_to_dB(treated / source) : null;
}
