import { clamp } from '../units/units.js';
import type { SettingDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

/**
 * How stages read their instance on the audio thread: nothing is allocated, nothing is thrown; what is missing, NaN or of the
 * wrong kind keeps the old value, what is out of range is clamped.
 */
export function numberSetting(instance: StageInstance, setting: SettingDeclaration, kept: number): number {
  const value = instance.settings[setting.key];
  if (typeof value !== 'number' || Number.isNaN(value)) return kept;
  return clamp(value, setting.min ?? -Infinity, setting.max ?? Infinity);
}

export function choiceSetting(instance: StageInstance, setting: SettingDeclaration, kept: string): string {
  const value = instance.settings[setting.key];
  return typeof value === 'string' && setting.choices?.includes(value) === true ? value : kept;
}

export function switchSetting(instance: StageInstance, setting: SettingDeclaration, kept: boolean): boolean {
  const value = instance.settings[setting.key];
  return typeof value === 'boolean' ? value : kept;
}

/** A figure that `core/job` measured; `absent` where the instance has none yet. */
export function numberFigure(instance: StageInstance, key: string, absent: number): number {
  const value = instance.figures[key];
  return typeof value === 'number' && Number.isFinite(value) ? value : absent;
}
