import { shareOf, valueAt, type ValueRange } from './value-range.js';
import { tidied } from './say-value.js';

/** The full width of a blank is this share of the range; a tenth of it with Shift. */
export const DRAG_SHARE = 0.1;
export const FINE = 0.1;

/**
 * The value after a sideways drag: the blank's own width moves it a tenth of its range, a hundredth with Shift. The result is
 * rounded to the digits that are shown, and held within the range.
 */
export function draggedValue(
  range: ValueRange,
  from: number,
  moved_px: number,
  width_px: number,
  fine: boolean,
  unit: string,
): number {
  const step = (moved_px / Math.max(1, width_px)) * DRAG_SHARE * (fine ? FINE : 1);
  return tidied(valueAt(range, shareOf(range, from) + step), unit, fine);
}

/** Arrow keys move a hundredth of the range, with Shift a tenth of that; Page keys a tenth; Home and End go to the ends. */
export function steppedValue(range: ValueRange, from: number, key: string, fine: boolean, unit: string): number | null {
  if (key === 'Home') return range.min;
  if (key === 'End') return range.max;
  const steps = STEPS[key];
  if (steps === undefined) return null;
  const next = tidied(valueAt(range, shareOf(range, from) + steps * 0.01 * (fine ? FINE : 1)), unit, fine);
  if (next !== from) return next;
  // Where a step is smaller than the last digit shown, it moves by one of that digit.
  return Math.min(
    range.max,
    Math.max(range.min, tidied(from + Math.sign(steps) * leastStep(from, unit, fine), unit, fine)),
  );
}

const STEPS: Readonly<Record<string, number>> = {
  ArrowUp: 1,
  ArrowRight: 1,
  ArrowDown: -1,
  ArrowLeft: -1,
  PageUp: 10,
  PageDown: -10,
};

function leastStep(value: number, unit: string, fine: boolean): number {
  for (const step of [0.001, 0.01, 0.1, 1]) if (tidied(value + step, unit, fine) !== value) return step;
  return 10;
}
