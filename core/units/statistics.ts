/**
 * Order statistics and robust lines over plain numbers. Percentiles interpolate linearly between order statistics:
 * position (n - 1) p / 100 (type 7 of R. J. Hyndman and Y. Fan, "Sample Quantiles in Statistical Packages", The American
 * Statistician 50(4), 1996).
 */

/** @returns the p-th percentile (p 0..100) of `values`; NaN where there are none. The input is not changed. */
export function percentile(values: ArrayLike<number>, p: number): number {
  return percentileOfSorted(sorted(values), p);
}

export function percentileOfSorted(ascending: ArrayLike<number>, p: number): number {
  const count = ascending.length;
  if (count === 0) return NaN;
  const position = ((count - 1) * p) / 100;
  const below = Math.floor(position);
  const above = Math.min(below + 1, count - 1);
  const low = ascending[below]!;
  return low + (position - below) * (ascending[above]! - low);
}

export function median(values: ArrayLike<number>): number {
  return percentile(values, 50);
}

export function mean(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}

/** 1.4826 times the median absolute deviation from the median: the standard deviation of a normal sample. */
export function robustDeviation(values: ArrayLike<number>): number {
  const middle = median(values);
  return 1.4826 * median(Float64Array.from(values, (value) => Math.abs(value - middle)));
}

/** Ascending copy. */
export function sorted(values: ArrayLike<number>): Float64Array {
  return Float64Array.from(values).sort();
}

/**
 * Theil-Sen line: the median of all pairwise slopes, held within `slopeLimit`, and the median of the residuals.
 * H. Theil, Proc. Royal Netherlands Academy of Sciences 53, 1950; P. K. Sen, JASA 63(324), 1968.
 */
export function theilSenLine(
  x: readonly number[],
  y: readonly number[],
  slopeLimit = Infinity,
): { slope: number; intercept: number } {
  const slopes: number[] = [];
  for (let i = 0; i < x.length; i++) {
    for (let j = i + 1; j < x.length; j++) {
      if (x[j] !== x[i]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!));
    }
  }
  const steepness = slopes.length > 0 ? median(slopes) : 0;
  const slope = Math.max(-slopeLimit, Math.min(slopeLimit, steepness));
  return { slope, intercept: median(x.map((value, i) => y[i]! - slope * value)) };
}
