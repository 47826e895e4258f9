import { sin } from '../units/exact-math.js';
import type { Channel } from '../signal/stereo-signal.js';
import { kaiser } from './kaiser-window.js';

/**
 * The lows of a channel at a lower rate: decimation by a whole factor, linear phase, the delay taken out, so that sample n of
 * the result stands at time n / rate. 0..cleanTo_Hz is kept clean (ripple under 0.001 dB, aliases about -100 dB); what lies
 * above may alias into itself. In one step or two, whichever costs less; each step by factor M from rate f has
 *
 *   taps    sinc of corner f / (2 M), Kaiser beta 10, transition cleanTo .. f / M - cleanTo
 *   half    ceil((100 - 8) / (2.285 * 2 pi * (1 / M - 2 cleanTo / f)) / 2) taps on either side
 *
 * Source: J. F. Kaiser, "Nonrecursive Digital Filter Design Using the I0-sinh Window Function", ISCAS 1974.
 */
export class LowBand {
  readonly factor: number;
  /** Rate of what comes out. */
  readonly rate_Hz: number;
  private readonly steps: readonly DecimationStep[];

  /**
   * @param atLeast_Hz the rate wanted: sampleRate / factor is the lowest that is not under this.
   * @throws RangeError if cleanTo_Hz is not under half the rate that comes out (unless nothing is decimated).
   */
  constructor(sampleRate_Hz: number, atLeast_Hz: number, cleanTo_Hz: number) {
    this.factor = Math.max(1, Math.floor(sampleRate_Hz / atLeast_Hz));
    this.rate_Hz = sampleRate_Hz / this.factor;
    if (this.factor > 1 && !(2 * cleanTo_Hz < this.rate_Hz)) {
      throw new RangeError(`cleanTo_Hz must lie under ${this.rate_Hz / 2}, got ${cleanTo_Hz}`);
    }
    this.steps = cheapestSteps(this.factor, cleanTo_Hz / sampleRate_Hz).map(
      ({ factor, half }) => new DecimationStep(factor, half),
    );
  }

  /** The whole channel; outside it is silence. */
  ofChannel(samples: Channel): Float64Array {
    if (this.steps.length === 0) return Float64Array.from(samples);
    return this.steps.reduce<Channel>((sound, step) => step.of(sound), samples) as Float64Array;
  }
}

interface StepPlan {
  readonly factor: number;
  readonly half: number;
}

/** @param cleanTo in cycles per sample of the first rate. */
function cheapestSteps(factor: number, cleanTo: number): StepPlan[] {
  if (factor === 1) return [];
  const plan = (step: number, clean: number): StepPlan => ({
    factor: step,
    half: Math.ceil(92 / (2.285 * 2 * Math.PI * (1 / step - 2 * clean)) / 2),
  });
  let best = [plan(factor, cleanTo)];
  for (let first = 2; first < factor; first++) {
    if (factor % first !== 0) continue;
    const two = [plan(first, cleanTo), plan(factor / first, cleanTo * first)];
    if (costOf(two) < costOf(best)) best = two;
  }
  return best;
}

/** Taps met per sample of the first rate. */
function costOf(steps: readonly StepPlan[]): number {
  let cost = 0;
  let factors = 1;
  for (const { factor, half } of steps) {
    factors *= factor;
    cost += (half + 1) / factors;
  }
  return cost;
}

/** A multiple of four; what a block reads stays in the processor's own memory. */
const BLOCK_FRAMES = 256;

/** One step: a symmetric low-pass, read at every `factor`-th sample. */
class DecimationStep {
  private readonly centre: number;
  /** Every tap beside the centre that is not 0, on both sides alike: how far out it stands, and its weight. */
  private readonly distances: Int32Array;
  private readonly weights: Float64Array;
  private readonly heard: Float64Array;
  private readonly filtered = new Float64Array(BLOCK_FRAMES);

  constructor(
    private readonly factor: number,
    private readonly half: number,
  ) {
    const side = lowPassSide(half, factor);
    this.centre = side[0]!;
    this.distances = Int32Array.from(side.keys()).filter((k) => k % factor !== 0);
    this.weights = side.filter((_, k) => k % factor !== 0);
    this.heard = new Float64Array((BLOCK_FRAMES - 1) * factor + 2 * half + 1);
  }

  of(samples: Channel): Float64Array {
    const output = new Float64Array(Math.ceil(samples.length / this.factor));
    for (let from = 0; from < output.length; from += BLOCK_FRAMES) {
      this.hear(samples, from * this.factor - this.half);
      this.filter();
      output.set(this.filtered.subarray(0, output.length - from), from);
    }
    return output;
  }

  /** Copies what a block reads, silence where it reaches beyond the channel, so that the filter meets one kind of array. */
  private hear(samples: Channel, first: number): void {
    const { heard } = this;
    const from = Math.max(0, first);
    const to = Math.max(from, Math.min(samples.length, first + heard.length));
    heard.fill(0, 0, from - first);
    heard.set(samples.subarray(from, to), from - first);
    heard.fill(0, to - first);
  }

  /** Four sums at once, since each waits for its own last addition. */
  private filter(): void {
    const { heard, filtered, distances, weights, centre, half, factor } = this;
    for (let n = 0; n < BLOCK_FRAMES; n += 4) {
      const a = n * factor + half;
      const b = a + factor;
      const c = b + factor;
      const d = c + factor;
      let sumA = centre * heard[a]!;
      let sumB = centre * heard[b]!;
      let sumC = centre * heard[c]!;
      let sumD = centre * heard[d]!;
      for (let i = 0; i < distances.length; i++) {
        const k = distances[i]!;
        const weight = weights[i]!;
        sumA += weight * (heard[a - k]! + heard[a + k]!);
        sumB += weight * (heard[b - k]! + heard[b + k]!);
        sumC += weight * (heard[c - k]! + heard[c + k]!);
        sumD += weight * (heard[d - k]! + heard[d + k]!);
      }
      filtered[n] = sumA;
      filtered[n + 1] = sumB;
      filtered[n + 2] = sumC;
      filtered[n + 3] = sumD;
    }
  }
}

/** From the centre outwards, the corner at half the rate that comes out: 0 at every multiple of `factor`. */
function lowPassSide(half: number, factor: number): Float64Array {
  const side = new Float64Array(half + 1);
  let sum = 0;
  for (let k = 0; k <= half; k++) {
    const x = (Math.PI * k) / factor;
    const value = k === 0 ? 1 : k % factor === 0 ? 0 : (sin(x) / x) * kaiser(k / half, 10);
    side[k] = value;
    sum += k === 0 ? value : 2 * value;
  }
  for (let k = 0; k <= half; k++) side[k]! /= sum;
  return side;
}
