/**
 * What a linear predictor of the signal's own spectrum leaves over: e[n] = x[n] + sum a[k] x[n - k], k = 1..order, with a from
 * the Levinson recursion on the autocorrelation (J. Makhoul, "Linear Prediction: A Tutorial Review", Proc. IEEE 63(4), 1975).
 * The result's spectrum is nearly flat, so that a long tone no longer hides what begins under it.
 * @param order number of coefficients, 1 or more.
 * @param floor share of the power added as white noise, which bounds how deep a tone is carved out.
 * @returns as many values as given; all 0 for silence.
 */
export function predictionError(samples: Float64Array, order: number, floor: number): Float64Array {
  const error = new Float64Array(samples.length);
  const coefficients = levinson(autocorrelation(samples, order), floor);
  if (coefficients === null) return error;
  for (let n = 0; n < error.length; n++) {
    let sum = 0;
    const reach = Math.min(order, n);
    for (let k = 0; k <= reach; k++) sum += coefficients[k]! * samples[n - k]!;
    error[n] = sum;
  }
  return error;
}

function autocorrelation(samples: Float64Array, order: number): Float64Array {
  const values = new Float64Array(order + 1);
  for (let lag = 0; lag <= order; lag++) {
    let sum = 0;
    for (let n = lag; n < samples.length; n++) sum += samples[n]! * samples[n - lag]!;
    values[lag] = sum;
  }
  return values;
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
