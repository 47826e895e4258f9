import type { StateTape } from './state-tape.js';
import type { Hertz } from '../units/units.js';
import { PartitionedConvolver } from './partitioned-convolver.js';
import type { StereoUnit } from './stereo-unit.js';
import { writeBandSide, writeLowPassSide, type SlopeDbPerOctave } from './zero-phase-taps.js';

/**
 * A zero-phase low-pass or band-pass behind a fixed delay: `maxSideLength` samples, whatever its corner, so that a change of
 * corner never moves the sound in time. Setters allocate nothing and act as a cross-fade from the next tick on.
 */
export class ZeroPhaseFilter implements StereoUnit {
  readonly latencySamples: number;
  private readonly side: Float64Array;
  private readonly convolver: PartitionedConvolver;

  /** @param maxSideLength the most taps on each side of the centre: `lowPassSideLength` at the lowest corner. */
  constructor(
    private readonly sampleRate_Hz: Hertz,
    maxSideLength: number,
    channelCount: 1 | 2,
  ) {
    this.latencySamples = maxSideLength;
    this.side = new Float64Array(maxSideLength + 1);
    this.convolver = new PartitionedConvolver(2 * maxSideLength + 1, channelCount);
  }

  setLowPass(corner_Hz: Hertz, slope: SlopeDbPerOctave, atOnce: boolean): void {
    this.take(writeLowPassSide(this.side, corner_Hz, this.sampleRate_Hz, slope), atOnce);
  }

  setBand(centre_Hz: Hertz, width_oct: number, atOnce: boolean): void {
    this.take(writeBandSide(this.side, centre_Hz, width_oct, this.sampleRate_Hz), atOnce);
  }

  /** One tick, both channels, in place. */
  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    this.convolver.process(left, right, frameCount);
  }

  /** One tick, heard and remembered, whose output nobody needs. */
  listen(left: Float64Array, right: Float64Array): void {
    this.convolver.listen(left, right);
  }

  /** One tick, one channel, in place. */
  processMono(samples: Float64Array): void {
    this.convolver.processMono(samples);
  }

  reset(): void {
    this.convolver.reset();
  }

  passState(tape: StateTape): void {
    this.convolver.passState(tape);
  }

  flush(): void {
    this.convolver.flush();
  }

  private take(length: number, atOnce: boolean): void {
    const taps = this.convolver.spareTaps;
    const centre = this.latencySamples;
    taps.fill(0);
    for (let k = 0; k <= length; k++) {
      taps[centre + k] = this.side[k]!;
      taps[centre - k] = this.side[k]!;
    }
    this.convolver.commit(atOnce);
  }
}
