import { formatAddress } from '../treatment/paths.js';
import { declarationOf } from '../treatment/stage-registry.js';
import { shortfall } from '../wishes/wish-text.js';
import { tryWhole, type Rounds, type Trial } from './solve-round.js';
import type { StageRequest } from './stage-request.js';

/** Walks made again where a wish that was met at its stage is missed by a little at the end of the path. */
const MOST_CORRECTIONS = 2;
/** Only what is missed by less than this is corrected: more is out of reach for reasons that the stage has said. */
const LARGEST_CORRECTION: Readonly<Record<string, number>> = { LU: 3, dB: 2, '%': 0.15 };
const SPARE = 1.1;

/** The trial with the wishes raised by what the end of the path took from them, as long as that does no more harm. */
export async function withWishesCorrected(rounds: Rounds, first: Trial): Promise<Trial> {
  let trial = first;
  for (let round = 0; round < MOST_CORRECTIONS; round++) {
    const requests = trial.attempt.requests.map((request) => correctedRequest(request, trial));
    const changed = requests.filter((request, i) => request !== trial.attempt.requests[i]);
    if (changed.length === 0) break;
    const amounts = new Map(trial.attempt.amounts);
    for (const { address } of changed) amounts.delete(formatAddress(address));
    const next = await tryWhole(rounds, { ...trial.attempt, requests, amounts });
    if (rounds.watch.stopped || next.harm.length > trial.harm.length) break;
    trial = next;
  }
  return trial;
}

/**
 * The request with its wish raised by what the end of the path takes from it (trim and make room lower the bass after harmonics
 * were solved); the very same where the wish that was met at its stage is met at the end too.
 */
function correctedRequest(request: StageRequest, { walk, rows }: Trial): StageRequest {
  const solved = walk.stages.find(({ address }) => formatAddress(address) === formatAddress(request.address));
  const wish = request.asked ?? request.wish;
  if (wish === null || solved?.solution.met !== true || !solved.solution.on) return request;
  if (declarationOf(request.address.stage).wish?.source !== 'file') return request;
  const row = rows.find(({ statistic }) => statistic.address === wish.statistic);
  if (row === undefined || row.after.kind === 'unmeasurable') return request;
  const missed = shortfall(wish, row.after.value);
  if (missed === 0 || missed > (LARGEST_CORRECTION[row.statistic.unit] ?? 0)) return request;
  const { low, high } = request.wish ?? wish;
  const raised = {
    ...wish,
    low: low === null ? null : low + (row.after.value < (wish.low ?? -Infinity) ? SPARE * missed : 0),
    high: high === null ? null : high - (row.after.value > (wish.high ?? Infinity) ? SPARE * missed : 0),
  };
  return { ...request, wish: raised, asked: wish };
}
