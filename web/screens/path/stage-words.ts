import { sayCount } from '../../../core/findings/say-figure.js';
import { declarationOf } from '../../../core/treatment/stage-registry.js';
import type { SettingDeclaration } from '../../../core/treatment/stage.js';
import type { StageSolved } from '../../../core/solve/path-walk.js';
import type { Wish } from '../../../core/wishes/wish.js';
import { statisticAt } from '../../../core/wishes/statistics.js';
import { sayNumberOf, sayValue } from '../../fields/say-value.js';
import type { PathStage } from './path-stages.js';

/** What a frame says, line by line. */
export interface StageWords {
  readonly name: string;
  readonly doing: string;
  readonly wanted: string | null;
  readonly reached: string | null;
}

/** The unit a wished figure is shown in: shares are 0..1 in data and per cent on paper. */
export function shownUnit(statistic: string, declared: string): { readonly unit: string; readonly scale: number } {
  const unit = statisticAt(statistic)?.unit ?? declared;
  return unit === '%' ? { unit, scale: 100 } : { unit, scale: 1 };
}

/** A figure of a wish in its own unit. */
export function sayWished(statistic: string, declared: string, value: number): string {
  const { unit, scale } = shownUnit(statistic, declared);
  return sayValue(value * scale, unit);
}

/** `90 % or more`, `3 to 5 dB`, `1 dB or less`. */
export function sayWish(wish: Wish, declared: string): string {
  const { unit, scale } = shownUnit(wish.statistic, declared);
  const { low, high } = wish;
  if (low !== null && high !== null) return `${sayNumberOf(low * scale, unit)} to ${sayValue(high * scale, unit)}`;
  if (low !== null) return `${sayValue(low * scale, unit)} or more`;
  return high === null ? 'anything' : `${sayValue(high * scale, unit)} or less`;
}

/** The wish a stage was solved for, as it was asked. */
export function askedWish(solved: StageSolved | null): Wish | null {
  return solved === null ? null : (solved.request.asked ?? solved.request.wish);
}

/** What a stage does now, in two of its settings: the amount that was solved first, then the next number. */
export function sayDoing({ address, instance }: PathStage, amountKey: string | null): string {
  const { settings } = declarationOf(address.stage);
  const numbers = settings.filter(({ kind, key }) => kind === 'number' && typeof instance.settings[key] === 'number');
  const changed = numbers.filter(
    (setting) => setting.key !== amountKey && instance.settings[setting.key] !== setting.default,
  );
  const first = numbers.find(({ key }) => key === amountKey) ?? changed[0] ?? numbers[0];
  if (first === undefined) return 'on';
  const second = changed.find((setting) => setting !== first);
  return [first, second]
    .flatMap((setting) => (setting === undefined ? [] : [saySetting(setting, Number(instance.settings[setting.key]))]))
    .join(', ');
}

function saySetting({ name, unit }: SettingDeclaration, value: number): string {
  return `${name} ${sayValue(value, unit)}`;
}

/** The words at a frame. */
export function stageWords(stage: PathStage, solved: StageSolved | null): StageWords {
  const { name, wish: declared } = declarationOf(stage.address.stage);
  const { on } = stage.instance;
  const wish = askedWish(solved);
  const unit = declared?.unit ?? '';
  if (!on) {
    return {
      name,
      doing: solved?.solution.met === true ? 'off, wish met without' : 'off',
      wanted: null,
      reached: null,
    };
  }
  const reached = solved?.solution.reached ?? null;
  const statistic = wish?.statistic ?? declared?.statistic ?? '';
  return {
    name,
    doing: sayDoing(stage, solved?.solution.amountKey ?? null),
    wanted: wish === null ? null : `wanted ${sayWish(wish, unit)}`,
    reached: reached === null ? null : `reached ${sayWished(statistic, unit, reached)}`,
  };
}

/** `3 of 17 stages on`. */
export function sayStagesOn(stages: readonly PathStage[]): string {
  const on = stages.filter(({ instance }) => instance.on).length;
  return `${on} of ${sayCount(stages.length, 'stage')} on`;
}
