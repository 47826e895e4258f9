import type { StateTape } from './state-tape.js';
import { TICK } from './stereo-unit.js';

/**
 * Mean power of two channels over the last `length` samples, (1/length) sum (L^2 + R^2): for a sine of peak A in both channels
 * A^2, so that 10 lg of it reads a full-scale sine as 0 dB. The sum is made afresh at every tick from what is in the window and
 * only carried on inside it, so that no rounding piles up over a song and a window of silence reads exactly 0.
 */
export class BoxcarPower {
  private readonly ring: Float64Array;
  private readonly mask: number;
  // State
  private position = 0;

  constructor(readonly length: number) {
    let size = 1;
    while (size < length + TICK) size *= 2;
    this.ring = new Float64Array(size);
    this.mask = size - 1;
  }

  /** The mean power at each frame of one tick (<= 128 frames), that frame included. */
  process(left: Float64Array, right: Float64Array, frameCount: number, powers: Float64Array): void {
    const { ring, mask, length } = this;
    let sum = 0;
    for (let i = this.position - length; i < this.position; i++) sum += ring[i & mask]!;
    for (let i = 0; i < frameCount; i++) {
      const at = this.position + i;
      let power = left[i]! * left[i]! + right[i]! * right[i]!;
      if (!(power < 1e12)) power = 0;
      ring[at & mask] = power;
      sum += power - ring[(at - length) & mask]!;
      powers[i] = sum > 0 ? sum / length : 0;
    }
    this.position += frameCount;
  }

  reset(): void {
    this.ring.fill(0);
    this.position = 0;
  }

  passState(tape: StateTape): void {
    tape.array(this.ring);
    this.position = tape.value(this.position);
  }
}
