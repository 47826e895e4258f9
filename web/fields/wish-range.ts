import type { Wish } from '../../core/wishes/wish.js';
import type { ValueRange } from './value-range.js';

/** How far a limit may be dragged, in its data's unit: shares 0..1, other figures as far from 0 and from here as makes sense. */
export function wishRange(wish: Wish, unit: string, present: readonly number[]): ValueRange {
  if (unit === '%') return { min: 0, max: 1, scale: 'linear' };
  const values = [wish.low, wish.high, ...present].filter((value) => value !== null);
  const reach = Math.max(12, 2 * Math.max(0, ...values.map(Math.abs)));
  const below = values.some((value) => value < 0);
  const above = values.some((value) => value > 0);
  return { min: below || !above ? -reach : 0, max: above || !below ? reach : 0, scale: 'linear' };
}
