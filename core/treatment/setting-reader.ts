import { clamp } from '../units/units.js';
import type { SettingDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

/**
 * Reading the settings and figures of an instance on the audio thread: nothing allocates or throws, a value that is missing,
 * NaN or of the wrong kind keeps the old one, a number out of range is held at its nearest limit.
 */
export function settingNumber(instance: StageInstance, setting: SettingDeclaration, old: number): number {
  const value = instance.settings[setting.key];
  if (typeof value !== 'number' || value !== value) return old;
  return clamp(value, setting.min ?? value, setting.max ?? value);
}

export function settingChoice(instance: StageInstance, setting: SettingDeclaration, old: string): string {
  const value = instance.settings[setting.key];
  return typeof value === 'string' && setting.choices !== undefined && setting.choices.includes(value) ? value : old;
}

/** A figure that is one number. Figures that are not there (any more) read as `missing`, not as the old value. */
export function figureNumber(instance: StageInstance, key: string, missing: number): number {
  const value = instance.figures[key];
  return typeof value === 'number' && Math.abs(value) < Infinity ? value : missing;
}

/** One place of a figure that is a list: `missing` where the list or the place is not there. */
export function figureAt(instance: StageInstance, key: string, index: number, missing: number): number {
  const value = instance.figures[key];
  if (typeof value !== 'object') return missing;
  const entry = value[index];
  return entry !== undefined && Math.abs(entry) < Infinity ? entry : missing;
}

export function settingSwitch(instance: StageInstance, setting: SettingDeclaration, old: boolean): boolean {
  const value = instance.settings[setting.key];
  return typeof value === 'boolean' ? value : old;
}
