import { sayFigure, sayNumber } from '../../../core/findings/say-figure.js';
import type { Finding } from '../../../core/findings/finding.js';
import type { ProofRow } from '../../../core/proof/compare-measurements.js';
import type { Solution } from '../../../core/solve/solve-song.js';
import { formatAddress } from '../../../core/treatment/paths.js';
import { declarationOf } from '../../../core/treatment/stage-registry.js';
import { parseWish } from '../../../core/wishes/wish-text.js';
import type { Wish } from '../../../core/wishes/wish.js';
import { statisticAt } from '../../../core/wishes/statistics.js';
import { sayLevel } from '../../strip/say-level.js';

/** One step of what would mend a finding: the stage, what it does, what comes of it. */
export interface MendingStep {
  readonly stage: string;
  readonly does: string;
  readonly gives: string;
  readonly basis: 'estimated' | 'rendered';
}

/** What would mend a finding: its step where a stage is suggested, from the solution where it has been rendered. */
export function mendingSteps(finding: Finding, solution: Pick<Solution, 'stages'> | null): MendingStep[] {
  const { stage, address, settings, expected } = finding.suggest;
  if (stage === 'none') return [];
  const solved = solution?.stages.find((entry) => formatAddress(entry.address) === address && entry.solution.on);
  const does = settingsInWords(finding, solved?.solution.settings ?? settings);
  if (solved !== undefined && solved.solution.reached !== null) {
    const { now, reached } = solved.solution;
    const unit = unitOfWish(finding);
    const gives = `${now === null ? '' : `${inUnit(now, unit)} \u2192 `}${inUnit(reached, unit)}${unit === '' ? '' : `\u00a0${unit}`}`;
    return [{ stage: stageWord(stage), does, gives, basis: 'rendered' }];
  }
  const gives = expected === null ? '' : sayFigure(expected.value, expected.unit, digitsOf(expected.unit));
  const basis = expected?.basis === 'rendered' ? 'rendered' : 'estimated';
  return [{ stage: stageWord(stage), does, gives, basis }];
}

function stageWord(stage: string): string {
  const words = stage.replace('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function digitsOf(unit: string): number {
  return unit === '%' ? 0 : 1;
}

/** Shares stand as 0..1 in data. */
function inUnit(value: number, unit: string): string {
  return unit === '%' ? sayNumber(100 * value, 0) : sayNumber(value);
}

function unitOfWish({ suggest }: Finding): string {
  const wish = suggest.wish === '' ? null : suggestedWish(suggest.wish);
  return wish === null ? '' : (statisticAt(wish.statistic)?.unit ?? '');
}

/** Reads `clearance.share2dB >= 90 %`, as findings write their wish. */
function suggestedWish(text: string): Wish {
  const space = text.indexOf(' ');
  return parseWish(text.slice(0, space), text.slice(space + 1));
}

/** The wish of a finding as a phrase: `hits at least 2 dB clear: 90 % or more`; empty where it has none. */
export function wishInWords({ suggest }: Finding): string {
  if (suggest.wish === '') return '';
  const wish = suggestedWish(suggest.wish);
  const statistic = statisticAt(wish.statistic);
  if (statistic === undefined) return suggest.wish;
  const say = (value: number): string => `${inUnit(value, statistic.unit)}\u00a0${statistic.unit}`;
  if (wish.low !== null && wish.high !== null) return `${statistic.name}: ${say(wish.low)} to ${say(wish.high)}`;
  if (wish.low !== null) return `${statistic.name}: ${say(wish.low)} or more`;
  return wish.high === null ? statistic.name : `${statistic.name}: ${say(wish.high)} or less`;
}

const MOST_SETTINGS = 3;

/** The settings that were measured, in the words of the stage: `delay -5.1 ms, polarity normal`. */
function settingsInWords({ suggest }: Finding, settings: Readonly<Record<string, number | string | boolean>>): string {
  if (suggest.stage === 'none') return '';
  const declared = declarationOf(suggest.stage).settings;
  const named = Object.keys(suggest.settings);
  const shown = named.length > 0 ? named : Object.keys(settings);
  return shown
    .slice(0, MOST_SETTINGS)
    .flatMap((key) => {
      const setting = declared.find((entry) => entry.key === key);
      const value = settings[key];
      if (setting === undefined || value === undefined) return [];
      const colon = setting.kind === 'choice' ? ':' : '';
      return [`${setting.name.toLowerCase()}${colon} ${sayValue(value, setting.unit)}`];
    })
    .join(', ');
}

function sayValue(value: number | string | boolean, unit: string): string {
  if (typeof value === 'boolean') return value ? 'on' : 'off';
  if (typeof value === 'string') return value;
  return unit === '' ? sayNumber(value) : sayFigure(value, unit);
}

/** What a solution costs elsewhere, harm first: `cost: headroom 0.6 dB`. */
export function costsInWords(rows: readonly ProofRow[]): string[] {
  return rows
    .filter(({ verdict }) => verdict === 'harm' || verdict === 'worse-within')
    .sort((a, b) => Number(b.verdict === 'harm') - Number(a.verdict === 'harm'))
    .map(({ statistic, change }) => {
      const by = statistic.unit === '%' ? 100 * change! : change!;
      return `${statistic.name} ${sayLevel(by, statistic.digits)}\u00a0${statistic.unit}`;
    });
}
