import type { SettingDeclaration } from '../../core/treatment/stage.js';

/** What a number may be, and how its scale runs. */
export interface ValueRange {
  readonly min: number;
  readonly max: number;
  readonly scale: 'linear' | 'log';
}

/** The declared range of a number; what is not declared is 0..1, even steps. */
export function rangeOf({ min = 0, max = 1, scale = 'linear' }: SettingDeclaration): ValueRange {
  return { min, max, scale: scale === 'log' && min > 0 ? 'log' : 'linear' };
}

/** Where a value lies in its range, 0..1. */
export function shareOf({ min, max, scale }: ValueRange, value: number): number {
  if (max <= min) return 0;
  return scale === 'log' ? Math.log(value / min) / Math.log(max / min) : (value - min) / (max - min);
}

/** The value at a share of the range; shares outside 0..1 are held at the ends. */
export function valueAt({ min, max, scale }: ValueRange, share: number): number {
  const held = Math.min(1, Math.max(0, share));
  return scale === 'log' ? min * Math.pow(max / min, held) : min + held * (max - min);
}

/** A value held within its range. */
export function held({ min, max }: ValueRange, value: number): number {
  return Math.min(max, Math.max(min, value));
}
