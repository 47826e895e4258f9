import { scaleLinear } from 'd3-scale';

/** A scale of a small figure: values to pixels, with a few round ticks. */
export interface AxisScale {
  readonly at: (value: number) => number;
  readonly valueAt: (pixel: number) => number;
  readonly ticks: readonly number[];
  readonly least: number;
  readonly most: number;
}

/** Just from one value to another, with round ticks between. */
export function fixedScale(least: number, most: number, from: number, to: number, tickCount: number): AxisScale {
  const scale = scaleLinear([least, most], [from, to]);
  return {
    at: (value) => scale(value),
    valueAt: (pixel) => scale.invert(pixel),
    ticks: scale.ticks(tickCount),
    least,
    most,
  };
}

/** From the least to the most of the values, widened to round numbers; `from` and `to` are the pixels of the two ends. */
export function axisScale(
  values: readonly number[],
  from: number,
  to: number,
  tickCount: number,
  least_span: number,
): AxisScale {
  const low = Math.min(...values);
  const high = Math.max(...values);
  const spare = Math.max(0, least_span - (high - low)) / 2 + 0.06 * (high - low);
  const scale = scaleLinear(
    [low >= 0 ? Math.max(0, low - spare) : low - spare, high <= 0 ? Math.min(0, high + spare) : high + spare],
    [from, to],
  ).nice(tickCount);
  const [least = low, most = high] = scale.domain();
  return {
    at: (value) => scale(value),
    valueAt: (pixel) => scale.invert(pixel),
    ticks: scale.ticks(tickCount),
    least,
    most,
  };
}
