import type { StageSolved } from '../../../core/solve/path-walk.js';
import { sayCount } from '../../../core/findings/say-figure.js';
import type { Measurements } from '../../../core/measure/measurements.js';
import { declarationOf } from '../../../core/treatment/stage-registry.js';
import { shortfall } from '../../../core/wishes/wish-text.js';
import { sayValue } from '../../fields/say-value.js';
import type { PathSolution } from './path-solution.js';
import type { PathStage } from './path-stages.js';
import { askedWish, sayDoing, sayWished, shownUnit } from './stage-words.js';

/** What the account of a stage is made from. */
export interface AccountQuestion {
  readonly stage: PathStage;
  readonly solved: StageSolved | null;
  readonly solution: PathSolution | null;
  readonly measured: Measurements;
  /** True where a setting of it was set by hand. */
  readonly hand: boolean;
  /** Something was decided or set since it was solved. */
  readonly unsolved: boolean;
  readonly hitCount: number;
}

export interface AccountLine {
  readonly term: string;
  readonly says: string;
}

/** Reached, before, cost, not reached: what the stage came to, in the words of the sheet. */
export function stageAccount({ stage, solved, solution, hand, unsolved, hitCount }: AccountQuestion): AccountLine[] {
  const lines: AccountLine[] = [];
  const declared = declarationOf(stage.address.stage).wish;
  const wish = askedWish(solved);
  const statistic = wish?.statistic ?? declared?.statistic ?? '';
  const unit = declared?.unit ?? '';
  const { now = null, reached = null, remark = null } = solved?.solution ?? {};
  if (reached !== null && stage.instance.on) {
    const hits =
      statistic === 'clearance.share2dB' ? `, ${Math.round(reached * hitCount)} of ${sayCount(hitCount, 'hit')}` : '';
    const term = unsolved ? 'Last solved' : hand ? 'By hand' : 'Reached';
    lines.push({ term, says: `${sayWished(statistic, unit, reached)}${hits}${unsolved ? '; changed since' : ''}` });
  }
  if (now !== null) lines.push({ term: 'Without', says: sayWished(statistic, unit, now) });
  lines.push({ term: 'Now', says: stage.instance.on ? sayDoing(stage, solved?.solution.amountKey ?? null) : 'off' });
  const cost = solution === null || !stage.instance.on ? [] : costOf(solution);
  if (cost.length > 0) lines.push({ term: 'Cost', says: `${cost.join(', ')}, whole path` });
  const missed = wish === null || reached === null ? 0 : shortfall(wish, reached);
  if (missed > 0) {
    const { unit: shown, scale } = shownUnit(statistic, unit);
    lines.push({ term: 'Not reached', says: `${sayValue(missed * scale, shown)} short` });
  }
  if (remark !== null) lines.push({ term: 'Remark', says: remark });
  return lines;
}

/** What the whole path made worse, largest against its tolerance first; two at most. */
function costOf({ rows }: PathSolution): string[] {
  return rows
    .filter(({ verdict, change }) => (verdict === 'worse-within' || verdict === 'harm') && change !== null)
    .sort((a, b) => Math.abs(b.change!) / (b.statistic.worseBy ?? 1) - Math.abs(a.change!) / (a.statistic.worseBy ?? 1))
    .slice(0, 2)
    .map(({ statistic, change }) => {
      const scale = statistic.unit === '%' ? 100 : 1;
      return `${statistic.name} ${sayValue(Math.abs(change!) * scale, statistic.unit)} worse`;
    });
}
