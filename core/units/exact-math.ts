/**
 * The only source of transcendental functions under the determinism rule. `Math.exp`, `Math.log`, `Math.sin` and `**`
 * differ by an ulp between JavaScript engines; these use `+ - * /`, `floor`, comparisons and bit moves only, which every
 * engine rounds alike (IEEE 754 binary64), so that live and printed sound are equal to the last bit everywhere.
 *
 * Accuracy against `Math.*`: within 3 ulp (the test states the worst found); `exp10` and `power` multiply the exponent first
 * and lose about as many ulp more as the result has octaves. Series: Taylor for exp, sin and cos on a reduced
 * argument, the atanh series for the logarithm. Source: any analysis text; range reduction after W. J. Cody and W. Waite,
 * "Software Manual for the Elementary Functions", 1980 (from memory).
 */

export const LN2 = 0.6931471805599453;
export const LN10 = 2.302585092994046;
const INVERSE_LN2 = 1.4426950408889634;
const LOG10_OF_2 = 0.30102999566398119521;
const LOG2_OF_10 = 3.3219280948873623;

/** 2^n for n = -1074..1023, made by exact doubling and halving. */
const POWERS_OF_TWO = makePowersOfTwo();

function makePowersOfTwo(): Float64Array {
  const table = new Float64Array(1074 + 1024);
  table[1074] = 1;
  for (let n = 1; n <= 1023; n++) table[1074 + n] = table[1074 + n - 1]! * 2;
  for (let n = 1; n <= 1074; n++) table[1074 - n] = table[1074 - n + 1]! * 0.5;
  return table;
}

/** e^t for |t| <= ln(2)/2: Taylor to t^14, error under 1e-17. */
function expReduced(t: number): number {
  let sum = 1 / 87178291200;
  sum = sum * t + 1 / 6227020800;
  sum = sum * t + 1 / 479001600;
  sum = sum * t + 1 / 39916800;
  sum = sum * t + 1 / 3628800;
  sum = sum * t + 1 / 362880;
  sum = sum * t + 1 / 40320;
  sum = sum * t + 1 / 5040;
  sum = sum * t + 1 / 720;
  sum = sum * t + 1 / 120;
  sum = sum * t + 1 / 24;
  sum = sum * t + 1 / 6;
  sum = sum * t + 0.5;
  sum = sum * t + 1;
  return sum * t + 1;
}

/** 2^x. Exact at whole x. x >= 1024 gives Infinity, x <= -1075 gives 0, NaN gives NaN. */
export function exp2(x: number): number {
  if (x !== x) return NaN;
  if (x >= 1024) return Infinity;
  if (x <= -1075) return 0;
  const whole = Math.floor(x + 0.5);
  const mantissa = expReduced((x - whole) * LN2);
  if (whole > 1023) return mantissa * POWERS_OF_TWO[1074 + 1023]! * 2;
  if (whole < -1022) return mantissa * POWERS_OF_TWO[1074 + whole + 52]! * POWERS_OF_TWO[1074 - 52]!;
  return mantissa * POWERS_OF_TWO[1074 + whole]!;
}

/** e^x. */
export function exp(x: number): number {
  if (x > -0.34 && x < 0.34) return expReduced(x);
  const whole = Math.floor(x * INVERSE_LN2 + 0.5);
  if (!(whole > -1022 && whole < 1023)) return exp2(x * INVERSE_LN2);
  // ln 2 in two parts, the first with trailing zeros, so that whole * high is exact (Cody-Waite)
  const rest = x - whole * 0.6931471803691238 - whole * 1.9082149292705877e-10;
  return expReduced(rest) * POWERS_OF_TWO[1074 + whole]!;
}

const bitView = new Float64Array(1);
const wordView = new Uint32Array(bitView.buffer);
/** Index of the word that holds sign and exponent: 1 on every little-endian machine, 0 on the others. */
const HIGH_WORD = findHighWord();

function findHighWord(): 0 | 1 {
  bitView[0] = 1;
  return wordView[1] !== 0 ? 1 : 0;
}

/** log2(x). Exact at powers of two. 0 gives -Infinity, negative and NaN give NaN, Infinity gives Infinity. */
export function log2(x: number): number {
  if (!(x >= 0)) return NaN;
  if (x === 0) return -Infinity;
  if (x === Infinity) return Infinity;
  let exponent = 0;
  bitView[0] = x;
  if ((wordView[HIGH_WORD]! & 0x7ff00000) === 0) {
    bitView[0] = x * 18014398509481984; // denormal: times 2^54
    exponent = -54;
  }
  const high = wordView[HIGH_WORD]!;
  exponent += ((high >>> 20) & 0x7ff) - 1023;
  wordView[HIGH_WORD] = (high & 0x000fffff) | 0x3ff00000;
  let mantissa = bitView[0];
  if (mantissa > 1.4142135623730951) {
    mantissa *= 0.5;
    exponent += 1;
  }
  return exponent + 2 * INVERSE_LN2 * atanhSeries((mantissa - 1) / (mantissa + 1));
}

/** atanh(s) for |s| <= 0.1716: s + s^3/3 + ... to s^23. */
function atanhSeries(s: number): number {
  const q = s * s;
  let sum = 1 / 23;
  sum = sum * q + 1 / 21;
  sum = sum * q + 1 / 19;
  sum = sum * q + 1 / 17;
  sum = sum * q + 1 / 15;
  sum = sum * q + 1 / 13;
  sum = sum * q + 1 / 11;
  sum = sum * q + 1 / 9;
  sum = sum * q + 1 / 7;
  sum = sum * q + 1 / 5;
  sum = sum * q + 1 / 3;
  return s * (sum * q) + s;
}

/** Natural logarithm. */
export function ln(x: number): number {
  return log2(x) * LN2;
}

/** Decimal logarithm, the `lg` of the trade. */
export function log10(x: number): number {
  return log2(x) * LOG10_OF_2;
}

/** base^exponent for base > 0; 0 at base 0 with a positive exponent. */
export function power(base: number, exponent: number): number {
  if (base === 0) return exponent > 0 ? 0 : exponent === 0 ? 1 : Infinity;
  return exp2(exponent * log2(base));
}

/** 10^x. */
export function exp10(x: number): number {
  return exp2(x * LOG2_OF_10);
}

function sinReduced(t: number): number {
  const q = t * t;
  let sum = 1 / 355687428096000;
  sum = -sum * q + 1 / 1307674368000;
  sum = -sum * q + 1 / 6227020800;
  sum = -sum * q + 1 / 39916800;
  sum = -sum * q + 1 / 362880;
  sum = -sum * q + 1 / 5040;
  sum = -sum * q + 1 / 120;
  sum = -sum * q + 1 / 6;
  return t - t * (sum * q);
}

function cosReduced(t: number): number {
  const q = t * t;
  let sum = 1 / 20922789888000;
  sum = -sum * q + 1 / 87178291200;
  sum = -sum * q + 1 / 479001600;
  sum = -sum * q + 1 / 3628800;
  sum = -sum * q + 1 / 40320;
  sum = -sum * q + 1 / 720;
  sum = -sum * q + 1 / 24;
  sum = -sum * q + 0.5;
  return 1 - sum * q;
}

/**
 * sin(2 pi c), the phase given in cycles: the reduction is exact, so a running phase kept in cycles modulo 1 never drifts.
 */
export function sinCycles(cycles: number): number {
  const quarters = Math.floor(cycles * 4 + 0.5);
  const rest = (cycles - quarters * 0.25) * (2 * Math.PI);
  const quadrant = quarters - 4 * Math.floor(quarters * 0.25);
  if (quadrant === 0) return sinReduced(rest);
  if (quadrant === 1) return cosReduced(rest);
  if (quadrant === 2) return -sinReduced(rest);
  return -cosReduced(rest);
}

/** `sinCycles` of the first `count` values, in place: in one loop no value is handed from call to call. */
export function sinCyclesOfAll(cycles: Float64Array, count: number = cycles.length): void {
  for (let i = 0; i < count; i++) cycles[i] = sinCycles(cycles[i]!);
}

/** cos(2 pi c), see `sinCycles`. */
export function cosCycles(cycles: number): number {
  const quarters = Math.floor(cycles * 4 + 0.5);
  const rest = (cycles - quarters * 0.25) * (2 * Math.PI);
  const quadrant = quarters - 4 * Math.floor(quarters * 0.25);
  if (quadrant === 0) return cosReduced(rest);
  if (quadrant === 1) return -sinReduced(rest);
  if (quadrant === 2) return -cosReduced(rest);
  return sinReduced(rest);
}

// pi/2 in three parts (Cody-Waite): quarter-turn counts up to 2^20 multiply the first two exactly.
const HALF_PI_1 = 1.5707963267341256;
const HALF_PI_2 = 6.077100506303966e-11;
const HALF_PI_3 = 2.0222662487959506e-21;

function quarterTurns(x: number): number {
  return Math.floor(x * 0.6366197723675814 + 0.5);
}

/** sin(x), x in radians, |x| up to about 1e6 (beyond: use `sinCycles`). */
export function sin(x: number): number {
  const quarters = quarterTurns(x);
  const rest = x - quarters * HALF_PI_1 - quarters * HALF_PI_2 - quarters * HALF_PI_3;
  const quadrant = quarters - 4 * Math.floor(quarters * 0.25);
  if (quadrant === 0) return sinReduced(rest);
  if (quadrant === 1) return cosReduced(rest);
  if (quadrant === 2) return -sinReduced(rest);
  return -cosReduced(rest);
}

/** cos(x), x in radians, see `sin`. */
export function cos(x: number): number {
  const quarters = quarterTurns(x);
  const rest = x - quarters * HALF_PI_1 - quarters * HALF_PI_2 - quarters * HALF_PI_3;
  const quadrant = quarters - 4 * Math.floor(quarters * 0.25);
  if (quadrant === 0) return cosReduced(rest);
  if (quadrant === 1) return -sinReduced(rest);
  if (quadrant === 2) return -cosReduced(rest);
  return sinReduced(rest);
}

/** tan(x), x in radians. */
export function tan(x: number): number {
  return sin(x) / cos(x);
}

/** atan(x) in radians: halved twice by atan x = 2 atan(x / (1 + sqrt(1 + x^2))), then the Taylor series. */
export function atan(x: number): number {
  if (x !== x) return NaN;
  if (x > 1) return Math.PI / 2 - atan(1 / x);
  if (x < -1) return -Math.PI / 2 - atan(1 / x);
  const half = x / (1 + Math.sqrt(1 + x * x));
  const t = half / (1 + Math.sqrt(1 + half * half));
  const q = t * t;
  let sum = 1 / 25;
  for (let k = 23; k >= 3; k -= 2) sum = 1 / k - q * sum;
  return 4 * (t - t * (q * sum));
}

/** Angle of the point (x, y) in radians, -pi..pi; 0 at the origin. */
export function atan2(y: number, x: number): number {
  if (x > 0) return atan(y / x);
  if (x < 0) return y >= 0 ? atan(y / x) + Math.PI : atan(y / x) - Math.PI;
  return y > 0 ? Math.PI / 2 : y < 0 ? -Math.PI / 2 : 0;
}
