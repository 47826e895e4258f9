/**
 * What a linear predictor of the signal's own spectrum leaves over: e[n] = x[n] + sum a[k] x[n - k], k = 1..order, with a from
 * the Levinson recursion on the autocorrelation (J. Makhoul, "Linear Prediction: A Tutorial Review", Proc. IEEE 63(4), 1975).
 * The result's spectrum is nearly flat, so that a long tone no longer hides what begins under it.
 * @param order number of coefficients, 1 or more.
 * @param floor share of the power added as white noise, which bounds how deep a tone is carved out.
 * @returns as many values as given; all 0 for silence.
 */
export function predictionError(samples: Float64Array, order: number, floor: number): Float64Array {
  const count = samples.length;
  const silence = order + 3;
  const padded = new Float64Array(silence + count + 3);
  padded.set(samples, silence);
  const coefficients = levinson(autocorrelation(padded, silence, count, order), floor);
  if (coefficients === null) return new Float64Array(count);
  const error = new Float64Array(count + 3);
  for (let n = 0; n < count; n += 4) fourErrors(padded, silence + n, coefficients, error, n);
  return error.subarray(0, count);
}

/** Four sums at once, since each waits for its own last addition. */
function fourErrors(
  padded: Float64Array,
  from: number,
  coefficients: Float64Array,
  error: Float64Array,
  at: number,
): void {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  for (let k = 0; k < coefficients.length; k++) {
    const coefficient = coefficients[k]!;
    a += coefficient * padded[from - k]!;
    b += coefficient * padded[from - k + 1]!;
    c += coefficient * padded[from - k + 2]!;
    d += coefficient * padded[from - k + 3]!;
  }
  error[at] = a;
  error[at + 1] = b;
  error[at + 2] = c;
  error[at + 3] = d;
}

/** Lags 0..order of the `count` samples from `from` on, with silence of order + 3 ahead of them; four lags at once, as above. */
function autocorrelation(padded: Float64Array, from: number, count: number, order: number): Float64Array {
  const values = new Float64Array(order + 4);
  for (let lag = 0; lag <= order; lag += 4) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let n = from; n < from + count; n++) {
      const now = padded[n]!;
      a += now * padded[n - lag]!;
      b += now * padded[n - lag - 1]!;
      c += now * padded[n - lag - 2]!;
      d += now * padded[n - lag - 3]!;
    }
    values[lag] = a;
    values[lag + 1] = b;
    values[lag + 2] = c;
    values[lag + 3] = d;
  }
  return values.subarray(0, order + 1);
}

/** Coefficients 1, a1 .. a_order; null for silence. */
function levinson(correlation: Float64Array, floor: number): Float64Array | null {
  const order = correlation.length - 1;
  let left = correlation[0]! * (1 + floor);
  if (!(left > 0)) return null;
  const a = new Float64Array(order + 1);
  const last = new Float64Array(order + 1);
  a[0] = 1;
  for (let i = 1; i <= order; i++) {
    let sum = correlation[i]!;
    for (let j = 1; j < i; j++) sum += a[j]! * correlation[i - j]!;
    const reflection = -sum / left;
    last.set(a);
    for (let j = 1; j < i; j++) a[j] = last[j]! + reflection * last[i - j]!;
    a[i] = reflection;
    left *= 1 - reflection * reflection;
  }
  return a;
}
