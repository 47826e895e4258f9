import type { MeasureId, StatisticDeclaration } from '../wishes/statistics.js';
import { improvement } from '../wishes/statistics.js';
import type { ProofRow } from '../proof/compare-measurements.js';
import { formatAddress } from '../treatment/paths.js';
import type { StageId } from '../treatment/treatment.js';
import { valueOf } from '../units/reading.js';
import type { TurnedDown } from './path-walk.js';
import { amountsOf, tryGuarded, type Attempt, type Rounds, type Trial } from './solve-round.js';

/** Shares tried before the blamed stages are switched off. */
const MOST_SHARES = 4;
/** A share is aimed at that leaves this much of the tolerance, and one that leaves no more than this is enough. */
const AIMED_SPARE = 0.15;
const MOST_SPARE = 0.4;
/** Closer together shares are not told apart. */
const CLOSEST = 1 / 16;

/** A share that was tried: how far the worst of the harmed figures is over its tolerance, in tolerances. */
interface Tried {
  readonly share: number;
  readonly over: number;
}

/**
 * The trial in which the stages to blame do no harm: all of them turned down to one share of what was solved, the largest that
 * is found by a bracketed secant on the worst harm over its tolerance; off where no share is harmless. Every share is rendered
 * and measured on the whole song. Where solving is stopped on the way, what was kept before stands.
 */
export async function withHarmTurnedDown(rounds: Rounds, first: Trial): Promise<Trial> {
  const blamed = blamedStages(first);
  if (blamed.size === 0) return first;
  const amounts = amountsOf(first.walk);
  const harmed = new Set(first.harm.map(({ statistic }) => statistic));
  const measures = [...new Set([...harmed].map(({ measure }) => measure))];
  const attemptAt = (share: number): Attempt => ({
    requests: first.attempt.requests,
    amounts,
    turnedDown: new Map([...blamed].map(([address, because]) => [address, { share, because }])),
  });
  let kept: Trial | null = null;
  let harmless: Tried = { share: 0, over: -1 };
  let harmful: Tried = { share: 1, over: overTolerance(first.rows, harmed) };
  let tooMuch = false;
  for (let tried = 0; tried < MOST_SHARES; tried++) {
    const share = nextShare(harmless, harmful);
    if (share === null) break;
    const { trial, rows } = await tryGuarded(rounds, attemptAt(share), measures);
    if (rounds.watch.stopped) return kept ?? first;
    const over = overTolerance(rows, harmed);
    if (trial === null || over > 0) {
      // too much twice running: the other end is drawn nearer (the Illinois variant, Dowell and Jarratt 1971)
      if (tooMuch) harmless = { ...harmless, over: 0.5 * harmless.over };
      tooMuch = true;
      harmful = { share, over };
      continue;
    }
    tooMuch = false;
    kept = trial;
    harmless = { share, over };
    if (over >= -MOST_SPARE) break;
  }
  if (kept !== null) return kept;
  const { trial } = await tryGuarded(rounds, attemptAt(0), []);
  return rounds.watch.stopped || trial === null ? first : trial;
}

/** Where the straight line between two shares leaves a little of the tolerance; null where they are close together. */
function nextShare(harmless: Tried, harmful: Tried): number | null {
  const gap = harmful.share - harmless.share;
  if (gap <= CLOSEST) return null;
  const secant = (-AIMED_SPARE - harmless.over) / (harmful.over - harmless.over);
  return harmless.share + gap * Math.max(0.1, Math.min(0.9, secant));
}

/**
 * How far the worst of some figures is over its tolerance, in tolerances: -1 where nothing changed, 0 at the tolerance. A figure
 * that became harmed on the way counts with them; one that is so good that no loss counts is never over.
 */
function overTolerance(rows: readonly ProofRow[], harmed: ReadonlySet<StatisticDeclaration>): number {
  return rows.reduce((most, { statistic, before, after, verdict }) => {
    const from = valueOf(before);
    const to = valueOf(after);
    const { worseBy } = statistic;
    if (from === null || to === null || worseBy === null || !(harmed.has(statistic) || verdict === 'harm')) return most;
    const over = (-improvement(statistic, from, to) - worseBy) / worseBy;
    return Math.max(most, verdict === 'harm' ? Math.max(over, LEAST_OVER) : Math.min(over, 0));
  }, -1);
}

const LEAST_OVER = 1e-6;

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

/** The stages that are on and can be to blame for what became worse, by address, with the names of what they may have harmed. */
function blamedStages({ harm, walk }: Trial): Map<string, TurnedDown['because']> {
  return new Map(
    walk.stages.flatMap(({ address, solution }) => {
      const because = harm
        .filter(({ statistic }) => MAY_HARM[statistic.measure].includes(address.stage))
        .map(({ statistic }) => statistic.name);
      return solution.on && because.length > 0 ? [[formatAddress(address), because] as const] : [];
    }),
  );
}
