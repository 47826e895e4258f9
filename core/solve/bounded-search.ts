/**
 * Finds the least amount of a treatment that gives a wanted result, by few evaluations (each is a render): a bracketed secant
 * (regula falsi; M. Dowell and P. Jarratt, "A Modified Regula Falsi Method", BIT 11, 1971), held within the allowed range.
 * Deterministic: the same question gives the same trace.
 */

/** One render tried. */
export interface Trial {
  readonly amount: number;
  readonly result: number;
}

export interface SearchQuestion {
  /** The amount that treats least, and the amount that treats most: `least` may be the larger number. */
  readonly least: number;
  readonly most: number;
  /** Where to begin: a closed form's answer, or a usual value. */
  readonly start: number;
  /** The result wanted: the search aims at `target` and stops within `tolerance` of it, on the side that meets the wish. */
  readonly target: number;
  readonly tolerance: number;
  /** +1 where more treatment raises the result, -1 where it lowers it. */
  readonly direction: 1 | -1;
  readonly maxTrials: number;
  evaluate(amount: number): Promise<number>;
  /** Told the best trial after each one; true ends the search there. */
  afterTrial?(best: Trial): Promise<boolean>;
}

export interface SearchAnswer {
  /** The least amount tried that meets the wish, or the one that comes closest. */
  readonly amount: number;
  readonly result: number;
  readonly met: boolean;
  readonly trials: readonly Trial[];
  /** Null where the wish was met. */
  readonly stoppedBy: 'range' | 'trials' | 'hand' | null;
}

/** A point of the search: share 0 = least, 1 = most; excess >= 0 where the wish is met. */
interface Point {
  readonly share: number;
  readonly excess: number;
}

export async function searchLeast(question: SearchQuestion): Promise<SearchAnswer> {
  const { least, most, target, tolerance, direction, maxTrials } = question;
  const trials: Trial[] = [];
  let byHand = false;
  const tryAt = async (share: number): Promise<Point> => {
    const amount = least + (most - least) * share;
    const result = await question.evaluate(amount);
    trials.push({ amount, result });
    byHand = (await question.afterTrial?.(bestOf(trials, question))) === true;
    return { share, excess: direction * (result - target) };
  };
  let point = await tryAt(Math.max(0, Math.min(1, (question.start - least) / (most - least))));
  let enough = point.excess >= 0 ? point : null;
  let tooLittle = point.excess >= 0 ? null : point;
  let stride = 0.15;
  while (!byHand && trials.length < maxTrials && !(enough !== null && enough.excess <= tolerance)) {
    const share = nextShare(tooLittle, enough, stride, tolerance / 2);
    if (share === null) break;
    if (tooLittle === null || enough === null) stride *= 2;
    point = await tryAt(share);
    if (point.excess >= 0) enough = point;
    else tooLittle = point;
  }
  const { amount, result } = bestOf(trials, question);
  const atEnd = tooLittle !== null && tooLittle.share >= 1;
  const stoppedBy = enough !== null ? null : byHand ? 'hand' : atEnd ? 'range' : 'trials';
  return { amount, result, met: enough !== null, trials, stoppedBy };
}

/** Where to try next; null where the range or the resolution ends. */
function nextShare(tooLittle: Point | null, enough: Point | null, stride: number, aim: number): number | null {
  if (tooLittle === null) return enough!.share > 0 ? Math.max(0, enough!.share - stride) : null;
  if (enough === null) return tooLittle.share < 1 ? Math.min(1, tooLittle.share + stride) : null;
  const gap = enough.share - tooLittle.share;
  if (gap < 1e-4) return null;
  const secant = tooLittle.share + ((aim - tooLittle.excess) / (enough.excess - tooLittle.excess)) * gap;
  return Math.min(enough.share - 0.05 * gap, Math.max(tooLittle.share + 0.05 * gap, secant));
}

/** The trial that meets the wish with the least treatment, or else the one that comes closest. */
function bestOf(trials: readonly Trial[], { least, most, target, direction }: SearchQuestion): Trial {
  const treats = (trial: Trial): number => (trial.amount - least) / (most - least);
  const excess = (trial: Trial): number => direction * (trial.result - target);
  let best = trials[0]!;
  for (const trial of trials) {
    const lesser = excess(trial) >= 0 && (excess(best) < 0 || treats(trial) < treats(best));
    const closer = excess(best) < 0 && excess(trial) > excess(best);
    if (lesser || closer) best = trial;
  }
  return best;
}
