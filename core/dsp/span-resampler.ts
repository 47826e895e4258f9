import type { Channel } from '../signal/stereo-signal.js';
import { dotProduct, PhaseFilter, reducedRatio } from './phase-filter.js';

/** Beyond this many phases their taps are made anew each time, so that odd pairs of rates cost no memory. */
const MOST_KEPT_PHASES = 1024;

/** Any stretch of what `resampledChannel` gives, to the last bit, from the stretch of the input that it needs. */
export class SpanResampler {
  private readonly filter: PhaseFilter;
  private readonly up: number;
  private readonly down: number;
  private readonly kept = new Map<number, Float64Array>();

  /** @throws RangeError where a rate is not a whole number above 0. */
  constructor(from_Hz: number, to_Hz: number) {
    const { up, down } = reducedRatio(from_Hz, to_Hz);
    this.up = up;
    this.down = down;
    this.filter = new PhaseFilter(from_Hz, Math.min(from_Hz, to_Hz));
  }

  /** How many output samples so many input samples give. */
  lengthOf(inputLength: number): number {
    return Math.ceil((inputLength * this.up) / this.down);
  }

  /** Input samples `from..to` that output samples `first..first + count` are made of; it may reach beyond the sound on both sides. */
  spanOf(first: number, count: number): { readonly from: number; readonly to: number } {
    const before = this.filter.half - 1;
    const last = first + Math.max(0, count - 1);
    return { from: this.placeOf(first) - before, to: this.placeOf(last) - before + 2 * this.filter.half };
  }

  /** @param span the input over `spanOf(first, count)`, 0 where there is no sound. @returns output samples first .. first + count. */
  outputs(span: Channel, first: number, count: number): Float64Array {
    const input = span instanceof Float64Array ? span : new Float64Array(span);
    const begin = this.placeOf(first);
    return Float64Array.from({ length: count }, (_, n) => {
      const taps = this.tapsOf(((first + n) * this.down) % this.up);
      return dotProduct(taps, input, this.placeOf(first + n) - begin);
    });
  }

  /** The input sample at or before an output sample. */
  private placeOf(output: number): number {
    return Math.floor((output * this.down) / this.up);
  }

  private tapsOf(offset: number): Float64Array {
    const kept = this.kept.get(offset);
    if (kept !== undefined) return kept;
    const taps = this.filter.tapsAt(offset / this.up);
    if (this.up <= MOST_KEPT_PHASES) this.kept.set(offset, taps);
    return taps;
  }
}
