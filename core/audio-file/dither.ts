import { SeededRandom } from '../units/seeded-random.js';

/**
 * Triangular dither, two least significant bits wide: the difference of two uniform numbers of one LSB each. Added before
 * rounding it makes the error's mean 0 and its variance LSB^2 / 4 whatever the signal is.
 * S. P. Lipshitz, R. A. Wannamaker, J. Vanderkooy, "Quantization and Dither: A Theoretical Survey", JAES 40(5), 1992.
 *
 * One instance per channel: the channels' noise is independent. The same seed and channel give the same noise everywhere.
 */
export class TriangularDither {
  private readonly random: SeededRandom;

  constructor(seed: number, channel: number) {
    // an odd constant spreads neighbouring seeds and channels over the generator's 32-bit seeds
    this.random = new SeededRandom(Math.imul(seed ^ (channel << 30), 0x9e3779b1));
  }

  /** @returns the next value in LSB, between -1 and 1, both excluded. */
  next_LSB(): number {
    return this.random.uniform() - this.random.uniform();
  }
}
