import type { BiquadCoefficients } from '../dsp/biquad.js';
import { flushed } from '../dsp/stereo-unit.js';

/**
 * Filters of two second-order sections, one after the other (transposed direct form II), each with its own channel. Two of
 * them run in one loop: each sample waits for the one before it, and while one filter waits the other works.
 */
export class SectionPairs {
  private readonly twos: readonly TwoPairs[];

  /** @throws RangeError unless every filter has two sections. */
  constructor(private readonly filters: readonly (readonly BiquadCoefficients[])[]) {
    this.twos = filters.flatMap((filter, i) => (i % 2 === 0 ? [new TwoPairs(filter, filters[i + 1] ?? filter)] : []));
  }

  /**
   * The next `frameCount` frames of `inputs[i]` through filter i into `outputs[i]`, which may be the same array.
   * @param energies takes the sum of squares of what came out of filter i.
   */
  filter(
    inputs: readonly Float64Array[],
    outputs: readonly Float64Array[],
    frameCount: number,
    energies: Float64Array,
  ): void {
    this.twos.forEach((two, t) => {
      // a filter without a partner runs beside itself: both write the same
      const a = 2 * t;
      const b = Math.min(a + 1, this.filters.length - 1);
      two.filter(inputs[a]!, inputs[b]!, outputs[a]!, outputs[b]!, frameCount);
      energies[a] = two.energyA;
      energies[b] = two.energyB;
    });
  }
}

class TwoPairs {
  energyA = 0;
  energyB = 0;
  private readonly coefficients: Float64Array;
  private readonly state = new Float64Array(8);

  constructor(a: readonly BiquadCoefficients[], b: readonly BiquadCoefficients[]) {
    if (a.length !== 2 || b.length !== 2) throw new RangeError(`two sections are needed, got ${a.length}, ${b.length}`);
    this.coefficients = Float64Array.from([...a, ...b].flatMap(({ b0, b1, b2, a1, a2 }) => [b0, b1, b2, a1, a2]));
  }

  /** x through y to v is the one, p through q to r the other. */
  filter(
    inputA: Float64Array,
    inputB: Float64Array,
    outputA: Float64Array,
    outputB: Float64Array,
    frameCount: number,
  ): void {
    const { coefficients: c, state } = this;
    const b0 = c[0]!;
    const b1 = c[1]!;
    const b2 = c[2]!;
    const a1 = c[3]!;
    const a2 = c[4]!;
    const d0 = c[5]!;
    const d1 = c[6]!;
    const d2 = c[7]!;
    const c1 = c[8]!;
    const c2 = c[9]!;
    const f0 = c[10]!;
    const f1 = c[11]!;
    const f2 = c[12]!;
    const e1 = c[13]!;
    const e2 = c[14]!;
    const h0 = c[15]!;
    const h1 = c[16]!;
    const h2 = c[17]!;
    const g1 = c[18]!;
    const g2 = c[19]!;
    let y1 = state[0]!;
    let y2 = state[1]!;
    let v1 = state[2]!;
    let v2 = state[3]!;
    let q1 = state[4]!;
    let q2 = state[5]!;
    let r1 = state[6]!;
    let r2 = state[7]!;
    let energyA = 0;
    let energyB = 0;
    for (let n = 0; n < frameCount; n++) {
      const x = inputA[n]!;
      const p = inputB[n]!;
      const y = b0 * x + y1;
      const q = f0 * p + q1;
      y1 = b1 * x + y2 - a1 * y;
      q1 = f1 * p + q2 - e1 * q;
      y2 = b2 * x - a2 * y;
      q2 = f2 * p - e2 * q;
      const v = d0 * y + v1;
      const r = h0 * q + r1;
      v1 = d1 * y + v2 - c1 * v;
      r1 = h1 * q + r2 - g1 * r;
      v2 = d2 * y - c2 * v;
      r2 = h2 * q - g2 * r;
      outputA[n] = v;
      outputB[n] = r;
      energyA += v * v;
      energyB += r * r;
    }
    state[0] = flushed(y1);
    state[1] = flushed(y2);
    state[2] = flushed(v1);
    state[3] = flushed(v2);
    state[4] = flushed(q1);
    state[5] = flushed(q2);
    state[6] = flushed(r1);
    state[7] = flushed(r2);
    this.energyA = energyA;
    this.energyB = energyB;
  }
}
