import type { StateTape } from './state-tape.js';
import { copyFlushed } from './block-arithmetic.js';
import { TICK, type StereoUnit } from './stereo-unit.js';

/**
 * Delays both channels by a whole number of samples, to the bit (NaN and values under 1e-30 apart, which become 0). Whole ticks
 * only, in arrays of one tick, so that sound goes in and out by whole blocks.
 */
export class DelayLine implements StereoUnit {
  readonly latencySamples: number;
  private readonly left: TickRing;
  private readonly right: TickRing;

  /** @throws RangeError unless delay_samples is a whole number, 0 or more. */
  constructor(delay_samples: number) {
    if (!(Number.isInteger(delay_samples) && delay_samples >= 0)) {
      throw new RangeError(`delay_samples must be a whole number, 0 or more, got ${delay_samples}`);
    }
    this.latencySamples = delay_samples;
    this.left = new TickRing(delay_samples);
    this.right = new TickRing(delay_samples);
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (frameCount !== TICK) return;
    copyFlushed(left, left, 0, TICK);
    copyFlushed(right, right, 0, TICK);
    if (this.latencySamples === 0) return;
    this.left.pass(left);
    this.right.pass(right);
  }

  reset(): void {
    this.left.reset();
    this.right.reset();
  }

  passState(tape: StateTape): void {
    this.left.passState(tape);
    this.right.passState(tape);
  }

  /** Nothing to do: what enters is flushed. */
  flush(): void {
    return;
  }
}

/** The last ticks of one channel, the first of them once more at the end, so that no reading lies across it. */
class TickRing {
  private readonly held: Float64Array;
  /** Where the sound is that comes out when a tick has gone in: made beforehand, since a new view would be an allocation. */
  private readonly readings: readonly Float64Array[];
  private slot = 0;

  constructor(delay_samples: number) {
    const slots = Math.ceil(delay_samples / TICK) + 1;
    const size = slots * TICK;
    this.held = new Float64Array(size + TICK);
    this.readings = Array.from({ length: slots }, (_, slot) => {
      const from = (slot * TICK - delay_samples + size) % size;
      return this.held.subarray(from, from + TICK);
    });
  }

  pass(samples: Float64Array): void {
    const { held, readings, slot } = this;
    held.set(samples, slot * TICK);
    if (slot === 0) held.set(samples, readings.length * TICK);
    samples.set(readings[slot]!);
    this.slot = slot + 1 === readings.length ? 0 : slot + 1;
  }

  reset(): void {
    this.held.fill(0);
    this.slot = 0;
  }

  passState(tape: StateTape): void {
    tape.array(this.held);
    this.slot = tape.value(this.slot);
  }
}
