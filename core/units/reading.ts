/**
 * What a measure gives: a figure with its 90 % interval where there is one, or the reason why there is none. Never 0, NaN or
 * -Infinity in place of "cannot be measured".
 */
export interface Figure {
  readonly kind: 'figure';
  readonly value: number;
  /** 5 % end of the 90 % interval, where there is one. */
  readonly low?: number;
  readonly high?: number;
}

export interface Unmeasurable {
  readonly kind: 'unmeasurable';
  readonly reason: string;
}

export type Reading = Figure | Unmeasurable;

export function figure(value: number, interval?: { low: number; high: number }): Figure {
  if (!Number.isFinite(value)) throw new RangeError(`a figure must be finite, got ${value}`);
  return interval ? { kind: 'figure', value, low: interval.low, high: interval.high } : { kind: 'figure', value };
}

export function unmeasurable(reason: string): Unmeasurable {
  return { kind: 'unmeasurable', reason };
}

/** @returns the value of a reading, or null where there is none. */
export function valueOf(reading: Reading | Unmeasurable | undefined): number | null {
  return reading !== undefined && reading.kind === 'figure' ? reading.value : null;
}

export function isMeasured<T extends { kind: string }>(result: T | Unmeasurable): result is T {
  return result.kind !== 'unmeasurable';
}
