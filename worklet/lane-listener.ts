import { DelayLine } from '../core/dsp/delay-line.js';
import type { StateTape } from '../core/dsp/state-tape.js';
import { TICK } from '../core/dsp/stereo-unit.js';
import { TreatmentChain, type ChainInput, type ChainOutput, type Tap } from '../core/treatment/treatment-chain.js';
import type { Treatment } from '../core/treatment/treatment.js';
import { withAllOff } from '../core/treatment/with-all-off.js';
import type { LaneName } from '../protocol/engine-messages.js';

const NOTHING: ChainOutput = { kick: null, bass: null, rest: null };

/**
 * One lane of the bass by itself, treated and as it was, in time with the buses. The source lane is what the same split takes
 * out of the untreated bass; it costs a chain of its own with every stage off, made only while a lane is listened to.
 */
export class LaneListener {
  private readonly treated: Tap;
  private readonly sourceChain: TreatmentChain;
  private readonly source: Tap;
  private readonly treatedDelay: DelayLine;
  private readonly sourceDelay: DelayLine;

  /** @param chain the chain of the treatment, new: no sound may have passed. */
  constructor(chain: TreatmentChain, treatment: Treatment, lane: LaneName) {
    const point = { role: 'bass', lane } as const;
    const off = withAllOff(treatment);
    this.treated = chain.tapAt(point, treatment);
    this.sourceChain = new TreatmentChain(off, ['bass']);
    this.source = this.sourceChain.tapAt(point, off);
    this.treatedDelay = new DelayLine(chain.latencySamples - this.treated.latencySamples);
    this.sourceDelay = new DelayLine(chain.latencySamples - this.source.latencySamples);
  }

  seek(songSample: number): void {
    this.sourceChain.seek(songSample);
    this.treatedDelay.reset();
    this.sourceDelay.reset();
  }

  passState(tape: StateTape): void {
    this.sourceChain.passState(tape);
    this.treatedDelay.passState(tape);
    this.sourceDelay.passState(tape);
  }

  /** One tick, after the treatment's chain has run it. */
  run(input: ChainInput, from: number, treated: Pair, source: Pair): void {
    this.sourceChain.process(input, from, NOTHING, 0, TICK);
    copyPair(this.treated, treated);
    copyPair(this.source, source);
    this.treatedDelay.process(treated.left, treated.right, TICK);
    this.sourceDelay.process(source.left, source.right, TICK);
  }
}

/** Two channels of one tick. */
export interface Pair {
  readonly left: Float64Array;
  readonly right: Float64Array;
}

function copyPair(from: Pair, to: Pair): void {
  to.left.set(from.left);
  to.right.set(from.right);
}
