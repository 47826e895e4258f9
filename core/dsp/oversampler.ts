import type { StateTape } from './state-tape.js';
import { HalfBandDown, halfBandSide, HalfBandUp } from './half-band.js';
import { TICK } from './stereo-unit.js';

/** k of the half-band filters at twice, four and eight times the rate: 95, 27 and 19 taps. */
const STAGE_K = [23, 6, 4] as const;
const SIDES = STAGE_K.map((k) => halfBandSide(k));

/** Latency up and down again, in samples of the lower rate: 2 times oversampled, and 8 times. Exact, linear phase. */
export const OVERSAMPLER_LATENCY = { 2: 47, 8: 56 } as const;

/** One sample at four times the rate makes the delays of the upper stages, (13 + 9/2 + 1/2) / 2, a whole 9. */
const PAD_SAMPLES = 1;

/**
 * Oversampling of one channel by 2 or 8 in cascaded half-band stages. Pass band to 0.4167 of the lower rate (20 kHz at
 * 48 kHz), stop band about -118 dB from 0.5833 of it; what lies between folds back only above the pass band.
 *
 * `up` fills `high` (factor times as many frames); the caller works on it in place; `down` brings it back.
 */
export class Oversampler {
  /** The signal at the higher rate: `factor * frameCount` frames. */
  readonly high = new Float64Array(8 * TICK);
  private readonly ups = SIDES.map((side, stage) => new HalfBandUp(side, TICK << stage));
  private readonly downs = SIDES.map((side, stage) => new HalfBandDown(side, TICK << stage));
  private readonly twice = new Float64Array(2 * TICK);
  private readonly fourTimes = new Float64Array(4 * TICK + PAD_SAMPLES);

  /** @param frameCount at most TICK. */
  up(input: Float64Array, frameCount: number, factor: 2 | 8): void {
    if (factor === 2) {
      this.ups[0]!.process(input, frameCount, this.high);
      return;
    }
    this.ups[0]!.process(input, frameCount, this.twice);
    // The upper half of `high` is free until the last stage, which reads what it has already passed into its own buffer.
    this.ups[1]!.process(this.twice, 2 * frameCount, this.high);
    this.ups[2]!.process(this.high, 4 * frameCount, this.high);
  }

  down(output: Float64Array, frameCount: number, factor: 2 | 8): void {
    if (factor === 2) {
      this.downs[0]!.process(this.high, frameCount, output);
      return;
    }
    const { fourTimes, twice } = this;
    const last = fourTimes[4 * frameCount]!;
    this.downs[2]!.process(this.high, 4 * frameCount, fourTimes);
    fourTimes.copyWithin(PAD_SAMPLES, 0, 4 * frameCount);
    fourTimes[0] = last;
    this.downs[1]!.process(fourTimes, 2 * frameCount, twice);
    this.downs[0]!.process(twice, frameCount, output);
  }

  reset(): void {
    for (const up of this.ups) up.reset();
    for (const down of this.downs) down.reset();
    this.fourTimes.fill(0);
  }

  passState(tape: StateTape): void {
    for (let i = 0; i < this.ups.length; i++) {
      this.ups[i]!.passState(tape);
      this.downs[i]!.passState(tape);
    }
    tape.array(this.fourTimes);
  }
}
