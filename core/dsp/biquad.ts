import type { StateTape } from './state-tape.js';
import type { Channel } from '../signal/stereo-signal.js';
import { cos, exp10, sin } from '../units/exact-math.js';
import type { Decibels, Hertz } from '../units/units.js';
import { flushed } from './stereo-unit.js';

/** Second-order section H(z) = (b0 + b1 z^-1 + b2 z^-2) / (1 + a1 z^-1 + a2 z^-2). */
export interface BiquadCoefficients {
  readonly b0: number;
  readonly b1: number;
  readonly b2: number;
  readonly a1: number;
  readonly a2: number;
}

export const THROUGH: BiquadCoefficients = { b0: 1, b1: 0, b2: 0, a1: 0, a2: 0 };

/** A chain of second-order sections on one channel, transposed direct form II, float64 state. */
export class BiquadCascade {
  private readonly coefficients: Float64Array;
  private readonly state: Float64Array;

  constructor(readonly sections: readonly BiquadCoefficients[]) {
    this.coefficients = new Float64Array(sections.length * 5);
    this.state = new Float64Array(sections.length * 2);
    sections.forEach((section, s) => {
      this.coefficients.set([section.b0, section.b1, section.b2, section.a1, section.a2], s * 5);
    });
  }

  /**
   * In place. Sections run two at a time over the samples: the second works while the first waits for its own state. Each
   * computes what it would alone, to the last bit.
   */
  process(samples: Float64Array, frameCount: number = samples.length): void {
    const sectionCount = this.sections.length;
    let s = 0;
    for (; s + 1 < sectionCount; s += 2) this.processTwo(samples, frameCount, s);
    if (s < sectionCount) this.processOne(samples, frameCount, s);
  }

  private processOne(samples: Float64Array, frameCount: number, s: number): void {
    const { coefficients, state } = this;
    const b0 = coefficients[5 * s]!;
    const b1 = coefficients[5 * s + 1]!;
    const b2 = coefficients[5 * s + 2]!;
    const a1 = coefficients[5 * s + 3]!;
    const a2 = coefficients[5 * s + 4]!;
    let z1 = state[2 * s]!;
    let z2 = state[2 * s + 1]!;
    for (let n = 0; n < frameCount; n++) {
      const x = samples[n]!;
      const y = b0 * x + z1;
      z1 = b1 * x - a1 * y + z2;
      z2 = b2 * x - a2 * y;
      samples[n] = y;
    }
    state[2 * s] = z1;
    state[2 * s + 1] = z2;
  }

  private processTwo(samples: Float64Array, frameCount: number, s: number): void {
    const { coefficients, state } = this;
    const b0 = coefficients[5 * s]!;
    const b1 = coefficients[5 * s + 1]!;
    const b2 = coefficients[5 * s + 2]!;
    const a1 = coefficients[5 * s + 3]!;
    const a2 = coefficients[5 * s + 4]!;
    const d0 = coefficients[5 * s + 5]!;
    const d1 = coefficients[5 * s + 6]!;
    const d2 = coefficients[5 * s + 7]!;
    const c1 = coefficients[5 * s + 8]!;
    const c2 = coefficients[5 * s + 9]!;
    let z1 = state[2 * s]!;
    let z2 = state[2 * s + 1]!;
    let w1 = state[2 * s + 2]!;
    let w2 = state[2 * s + 3]!;
    for (let n = 0; n < frameCount; n++) {
      const x = samples[n]!;
      const y = b0 * x + z1;
      z1 = b1 * x - a1 * y + z2;
      z2 = b2 * x - a2 * y;
      const v = d0 * y + w1;
      w1 = d1 * y - c1 * v + w2;
      w2 = d2 * y - c2 * v;
      samples[n] = v;
    }
    state[2 * s] = z1;
    state[2 * s + 1] = z2;
    state[2 * s + 2] = w1;
    state[2 * s + 3] = w2;
  }

  reset(): void {
    this.state.fill(0);
  }

  passState(tape: StateTape): void {
    tape.array(this.state);
  }

  flush(): void {
    for (let i = 0; i < this.state.length; i++) this.state[i] = flushed(this.state[i]!);
  }
}

/** |H| at a frequency, as a power ratio, straight from the definition. */
export function powerResponse(
  sections: readonly BiquadCoefficients[],
  frequency_Hz: Hertz,
  sampleRate_Hz: Hertz,
): number {
  const w = (2 * Math.PI * frequency_Hz) / sampleRate_Hz;
  const c1 = cos(w);
  const s1 = sin(w);
  const c2 = cos(2 * w);
  const s2 = sin(2 * w);
  let power = 1;
  for (const { b0, b1, b2, a1, a2 } of sections) {
    const nRe = b0 + b1 * c1 + b2 * c2;
    const nIm = b1 * s1 + b2 * s2;
    const dRe = 1 + a1 * c1 + a2 * c2;
    const dIm = a1 * s1 + a2 * s2;
    power *= (nRe * nRe + nIm * nIm) / (dRe * dRe + dIm * dIm);
  }
  return power;
}

/**
 * Filters forward and backward, so that the phase is zero and the magnitude squared: |H|^2. The ends are padded with
 * `padFrames` of silence, which the caller chooses longer than the filter rings.
 */
export function filteredBothWays(
  samples: Channel,
  sections: readonly BiquadCoefficients[],
  padFrames: number,
): Float64Array {
  const work = new Float64Array(samples.length + 2 * padFrames);
  work.set(samples, padFrames);
  const cascade = new BiquadCascade(sections);
  cascade.process(work);
  work.reverse();
  cascade.reset();
  cascade.process(work);
  work.reverse();
  return work.subarray(padFrames, padFrames + samples.length);
}

/**
 * Bell. RBJ, "Audio EQ Cookbook", W3C Working Group Note, 8 June 2021, peakingEQ.
 * @param q the cookbook's Q: the bandwidth between half-gain points is f / Q in the narrow limit.
 */
export function bell(sampleRate_Hz: Hertz, frequency_Hz: Hertz, q: number, gain_dB: Decibels): BiquadCoefficients {
  const a = exp10(gain_dB / 40);
  const w = (2 * Math.PI * frequency_Hz) / sampleRate_Hz;
  const alpha = sin(w) / (2 * q);
  const c = cos(w);
  const a0 = 1 + alpha / a;
  return {
    b0: (1 + alpha * a) / a0,
    b1: (-2 * c) / a0,
    b2: (1 - alpha * a) / a0,
    a1: (-2 * c) / a0,
    a2: (1 - alpha / a) / a0,
  };
}

/** Low shelf with slope S. Cookbook lowShelf. */
export function lowShelf(sampleRate_Hz: Hertz, corner_Hz: Hertz, slope: number, gain_dB: Decibels): BiquadCoefficients {
  const a = exp10(gain_dB / 40);
  const w = (2 * Math.PI * corner_Hz) / sampleRate_Hz;
  const c = cos(w);
  const alpha = (sin(w) / 2) * Math.sqrt((a + 1 / a) * (1 / slope - 1) + 2);
  const root = 2 * Math.sqrt(a) * alpha;
  const a0 = a + 1 + (a - 1) * c + root;
  return {
    b0: (a * (a + 1 - (a - 1) * c + root)) / a0,
    b1: (2 * a * (a - 1 - (a + 1) * c)) / a0,
    b2: (a * (a + 1 - (a - 1) * c - root)) / a0,
    a1: (-2 * (a - 1 + (a + 1) * c)) / a0,
    a2: (a + 1 + (a - 1) * c - root) / a0,
  };
}

/** Second-order high-pass of quality q. Cookbook HPF. */
export function highPass(sampleRate_Hz: Hertz, corner_Hz: Hertz, q: number): BiquadCoefficients {
  const w = (2 * Math.PI * corner_Hz) / sampleRate_Hz;
  const alpha = sin(w) / (2 * q);
  const c = cos(w);
  const a0 = 1 + alpha;
  return {
    b0: (1 + c) / 2 / a0,
    b1: -(1 + c) / a0,
    b2: (1 + c) / 2 / a0,
    a1: (-2 * c) / a0,
    a2: (1 - alpha) / a0,
  };
}

/** Second-order low-pass of quality q. Cookbook LPF. */
export function lowPass(sampleRate_Hz: Hertz, corner_Hz: Hertz, q: number): BiquadCoefficients {
  const w = (2 * Math.PI * corner_Hz) / sampleRate_Hz;
  const alpha = sin(w) / (2 * q);
  const c = cos(w);
  const a0 = 1 + alpha;
  return {
    b0: (1 - c) / 2 / a0,
    b1: (1 - c) / a0,
    b2: (1 - c) / 2 / a0,
    a1: (-2 * c) / a0,
    a2: (1 - alpha) / a0,
  };
}

/** Second-order all-pass of quality q: the phase is -180 degrees at the corner. Cookbook APF. */
export function allPass(sampleRate_Hz: Hertz, corner_Hz: Hertz, q: number): BiquadCoefficients {
  const w = (2 * Math.PI * corner_Hz) / sampleRate_Hz;
  const alpha = sin(w) / (2 * q);
  const c = cos(w);
  const a0 = 1 + alpha;
  return { b0: (1 - alpha) / a0, b1: (-2 * c) / a0, b2: 1, a1: (-2 * c) / a0, a2: (1 - alpha) / a0 };
}
