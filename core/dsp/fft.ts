import { cosCycles, sinCycles } from '../units/exact-math.js';

/** e^(-2 pi i k / size), k = 0..size / 2 - 1. */
interface Turns {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
}

/** Transforms of one size share their tables; a table goes when the last of them does. */
const made = new Map<number, WeakRef<Turns>>();

function turnsOf(size: number): Turns {
  const known = made.get(size)?.deref();
  if (known !== undefined) return known;
  const count = Math.max(1, size / 2);
  const turns = { cos: new Float64Array(count), sin: new Float64Array(count) };
  for (let k = 0; k < count; k++) {
    turns.cos[k] = cosCycles(k / size);
    turns.sin[k] = -sinCycles(k / size);
  }
  made.set(size, new WeakRef(turns));
  return turns;
}

/**
 * Discrete Fourier transforms of power-of-two size, X[k] = sum x[n] e^(-2 pi i k n / N), with tables of our own so that every
 * engine gives the same bits (the rule on determinism). Stockham autosort, radix 2 with fused pairs, split arrays.
 * Source: C. Van Loan, "Computational Frameworks for the Fast Fourier Transform", SIAM, 1992, section 1.7 (from memory).
 *
 * Nothing is allocated after construction. Errors: about 1e-15 * log2(N) of the largest magnitude.
 */
export class ComplexFft {
  private readonly scratchRe: Float64Array;
  private readonly scratchIm: Float64Array;
  private readonly turns: Turns;

  /** @throws RangeError unless size is a power of two, 1..2^26. */
  constructor(readonly size: number) {
    if (!(size >= 1 && size <= 67108864 && (size & (size - 1)) === 0)) {
      throw new RangeError(`FFT size must be a power of two, got ${size}`);
    }
    this.scratchRe = new Float64Array(size);
    this.scratchIm = new Float64Array(size);
    this.turns = turnsOf(size);
  }

  /** In place, `re + i im`, both of length `size`. */
  forward(re: Float64Array, im: Float64Array): void {
    let fromRe = re;
    let fromIm = im;
    let toRe = this.scratchRe;
    let toIm = this.scratchIm;
    let blocks = this.size; // length still to transform
    let stride = 1;
    while (blocks >= 4) {
      this.radix4(fromRe, fromIm, toRe, toIm, blocks, stride);
      const keptRe = fromRe;
      const keptIm = fromIm;
      fromRe = toRe;
      fromIm = toIm;
      toRe = keptRe;
      toIm = keptIm;
      blocks >>= 2;
      stride <<= 2;
    }
    if (blocks === 2) {
      for (let q = 0; q < stride; q++) {
        const aRe = fromRe[q]!;
        const aIm = fromIm[q]!;
        const bRe = fromRe[q + stride]!;
        const bIm = fromIm[q + stride]!;
        toRe[q] = aRe + bRe;
        toIm[q] = aIm + bIm;
        toRe[q + stride] = aRe - bRe;
        toIm[q + stride] = aIm - bIm;
      }
      fromRe = toRe;
      fromIm = toIm;
    }
    if (fromRe !== re) {
      re.set(fromRe.subarray(0, this.size));
      im.set(fromIm.subarray(0, this.size));
    }
  }

  /** In place inverse, scaled by 1 / N. */
  inverse(re: Float64Array, im: Float64Array): void {
    this.forward(im, re);
    const scale = 1 / this.size;
    for (let i = 0; i < this.size; i++) {
      re[i]! *= scale;
      im[i]! *= scale;
    }
  }

  private radix4(
    xRe: Float64Array,
    xIm: Float64Array,
    yRe: Float64Array,
    yIm: Float64Array,
    length: number,
    stride: number,
  ): void {
    const quarter = length >> 2;
    const { cos: cosTable, sin: sinTable } = this.turns;
    for (let p = 0; p < quarter; p++) {
      const w1Re = cosTable[p * stride]!;
      const w1Im = sinTable[p * stride]!;
      const w2Re = cosTable[2 * p * stride]!;
      const w2Im = sinTable[2 * p * stride]!;
      const w3Re = w1Re * w2Re - w1Im * w2Im;
      const w3Im = w1Re * w2Im + w1Im * w2Re;
      const in0 = stride * p;
      const in1 = in0 + stride * quarter;
      const in2 = in1 + stride * quarter;
      const in3 = in2 + stride * quarter;
      const out0 = stride * 4 * p;
      const out1 = out0 + stride;
      const out2 = out1 + stride;
      const out3 = out2 + stride;
      for (let q = 0; q < stride; q++) {
        const aRe = xRe[in0 + q]!;
        const aIm = xIm[in0 + q]!;
        const bRe = xRe[in1 + q]!;
        const bIm = xIm[in1 + q]!;
        const cRe = xRe[in2 + q]!;
        const cIm = xIm[in2 + q]!;
        const dRe = xRe[in3 + q]!;
        const dIm = xIm[in3 + q]!;
        const acRe = aRe + cRe;
        const acIm = aIm + cIm;
        const amcRe = aRe - cRe;
        const amcIm = aIm - cIm;
        const bdRe = bRe + dRe;
        const bdIm = bIm + dIm;
        const jbdRe = bIm - dIm; // -i (b - d)
        const jbdIm = dRe - bRe;
        yRe[out0 + q] = acRe + bdRe;
        yIm[out0 + q] = acIm + bdIm;
        const e1Re = amcRe + jbdRe;
        const e1Im = amcIm + jbdIm;
        yRe[out1 + q] = e1Re * w1Re - e1Im * w1Im;
        yIm[out1 + q] = e1Re * w1Im + e1Im * w1Re;
        const e2Re = acRe - bdRe;
        const e2Im = acIm - bdIm;
        yRe[out2 + q] = e2Re * w2Re - e2Im * w2Im;
        yIm[out2 + q] = e2Re * w2Im + e2Im * w2Re;
        const e3Re = amcRe - jbdRe;
        const e3Im = amcIm - jbdIm;
        yRe[out3 + q] = e3Re * w3Re - e3Im * w3Im;
        yIm[out3 + q] = e3Re * w3Im + e3Im * w3Re;
      }
    }
  }
}

/**
 * Transform of real input of size N = 2^n >= 2: bins 0..N/2 in `re`, `im` (length N/2 + 1 each). `inverse` is exact up to
 * rounding: inverse(forward(x)) = x.
 */
export class RealFft {
  readonly binCount: number;
  private readonly half: ComplexFft;
  private readonly workRe: Float64Array;
  private readonly workIm: Float64Array;
  private readonly turns: Turns;

  constructor(readonly size: number) {
    if (size < 2) throw new RangeError(`FFT size must be at least 2, got ${size}`);
    this.half = new ComplexFft(size / 2);
    this.binCount = size / 2 + 1;
    this.workRe = new Float64Array(size / 2);
    this.workIm = new Float64Array(size / 2);
    this.turns = turnsOf(size);
  }

  /** `input` of `size` samples (shorter is taken as zero-padded). */
  forward(input: Float64Array, re: Float64Array, im: Float64Array): void {
    const { workRe, workIm } = this;
    const { cos: cosTable, sin: sinTable } = this.turns;
    const half = this.size / 2;
    const count = input.length;
    const whole = Math.min(half, count >> 1);
    for (let i = 0; i < whole; i++) {
      workRe[i] = input[2 * i]!;
      workIm[i] = input[2 * i + 1]!;
    }
    for (let i = whole; i < half; i++) {
      workRe[i] = 2 * i < count ? input[2 * i]! : 0;
      workIm[i] = 0;
    }
    this.half.forward(workRe, workIm);
    const zeroRe = workRe[0]!;
    const zeroIm = workIm[0]!;
    re[0] = zeroRe + zeroIm;
    im[0] = 0;
    re[half] = zeroRe - zeroIm;
    im[half] = 0;
    for (let k = 1; k <= half >> 1; k++) {
      const aRe = workRe[k]!;
      const aIm = workIm[k]!;
      const bRe = workRe[half - k]!;
      const bIm = workIm[half - k]!;
      const evenRe = 0.5 * (aRe + bRe);
      const evenIm = 0.5 * (aIm - bIm);
      const oddRe = 0.5 * (aIm + bIm);
      const oddIm = 0.5 * (bRe - aRe);
      const cos = cosTable[k]!;
      const sin = sinTable[k]!;
      const turnRe = oddRe * cos - oddIm * sin;
      const turnIm = oddRe * sin + oddIm * cos;
      re[k] = evenRe + turnRe;
      im[k] = evenIm + turnIm;
      re[half - k] = evenRe - turnRe;
      im[half - k] = turnIm - evenIm;
    }
  }

  /** Bins 0..N/2 to `size` real samples, scaled so that it undoes `forward`. */
  inverse(re: Float64Array, im: Float64Array, output: Float64Array): void {
    const { workRe, workIm } = this;
    const { cos: cosTable, sin: sinTable } = this.turns;
    const half = this.size / 2;
    workRe[0] = 0.5 * (re[0]! + re[half]!);
    workIm[0] = 0.5 * (re[0]! - re[half]!);
    for (let k = 1; k <= half >> 1; k++) {
      const aRe = re[k]!;
      const aIm = im[k]!;
      const bRe = re[half - k]!;
      const bIm = im[half - k]!;
      const evenRe = 0.5 * (aRe + bRe);
      const evenIm = 0.5 * (aIm - bIm);
      const turnRe = 0.5 * (aRe - bRe);
      const turnIm = 0.5 * (aIm + bIm);
      const cos = cosTable[k]!;
      const sin = sinTable[k]!;
      const oddRe = turnRe * cos + turnIm * sin;
      const oddIm = turnIm * cos - turnRe * sin;
      workRe[k] = evenRe - oddIm;
      workIm[k] = evenIm + oddRe;
      workRe[half - k] = evenRe + oddIm;
      workIm[half - k] = oddRe - evenIm;
    }
    this.half.inverse(workRe, workIm);
    for (let i = 0; i < half; i++) {
      output[2 * i] = workRe[i]!;
      output[2 * i + 1] = workIm[i]!;
    }
  }
}
