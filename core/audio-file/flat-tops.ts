import { dB_to_amplitude } from '../units/decibels.js';
import type { Channel } from '../signal/stereo-signal.js';

/** How near to the ceiling a sample of a flat top stands. Common practice. */
const NEAR_DB = 0.01;
/** Samples in a row that make a flat top. Common practice. */
const SHORTEST_RUN = 3;
/** How much steeper than the round top of a wave both flanks must be. */
const STEEPER = 3;
/** Flanks of a low tone's staircase are one step of its integers, with dither up to three; those of a cut top are more. */
const FLANK_STEPS = 4;

/**
 * Counts flat tops: three or more samples in a row within 0.01 dB of the file's own ceiling, on one side of zero. The top of a low
 * note stays as near to its peak for many samples, so the flanks decide. A round top whose n samples stand within a height h
 * is at most as curved as the parabola that just fits, h = c (n/2)^2 / 2; its second sample outside is then down
 * by at most 8 h / n (1 + 2/n). Where both flanks fall by more than three times that, and more than four steps of the stored integers, the top was cut. (Derived for this project; a square
 * wave looks the same and counts.)
 */
export class FlatTopCounter {
  runs = 0;
  readonly threshold: number;
  private readonly height: number;

  /** @param step one LSB of the integers the sound was stored as, full scale 1. */
  constructor(
    ceiling: number,
    private readonly step: number,
  ) {
    this.threshold = ceiling * dB_to_amplitude(-NEAR_DB);
    this.height = ceiling - this.threshold;
  }

  /**
   * One channel's piece: counts the tops that begin at `from` .. `until`, and follows them past `until` as far as the piece goes,
   * so that pieces that overlap count each top once. A top needs a sample on each side.
   */
  count(samples: Channel, from: number, until: number): void {
    for (let n = Math.max(1, from); n < until; n++) {
      const sign = samples[n]! < 0 ? -1 : 1;
      if (sign * samples[n]! < this.threshold) continue;
      let end = n + 1;
      while (end < samples.length && sign * samples[end]! >= this.threshold) end++;
      const begins = sign * samples[n - 1]! < this.threshold;
      if (begins && end < samples.length && this.isCut(samples, n, end, sign)) this.runs++;
      n = end - 1;
    }
  }

  private isCut(samples: Channel, from: number, end: number, sign: number): boolean {
    const length = end - from;
    if (length < SHORTEST_RUN) return false;
    const round = ((8 * this.height) / length) * (1 + 2 / length);
    const fall = Math.max(STEEPER * round, FLANK_STEPS * this.step);
    const last = samples.length - 1;
    const lower = (edge: number, next: number): number => sign * (samples[edge]! - samples[next]!);
    const before = Math.max(lower(from, from - 1), lower(from, Math.max(0, from - 2)));
    const after = Math.max(lower(end - 1, end), lower(end - 1, Math.min(last, end + 1)));
    return before > fall && after > fall;
  }
}
