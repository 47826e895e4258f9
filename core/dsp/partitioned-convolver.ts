import type { StateTape } from './state-tape.js';
import { copyFlushed } from './block-arithmetic.js';
import { FADE_CURVE, FadeClock } from './cross-fade.js';
import { ChannelPair } from './channel-pair.js';
import { RealFft } from './fft.js';
import { flushed, TICK, type StereoUnit } from './stereo-unit.js';

const FFT_SIZE = 2 * TICK;
const BINS = TICK + 1;

/**
 * The taps of one filter as spectra of partitions of TICK taps, one after another; partitions of zeros alone are left out at
 * both ends.
 */
interface TapSet {
  readonly re: Float64Array;
  readonly im: Float64Array;
  first: number;
  last: number;
}

/** What one channel has heard: the spectra of its last ticks, one after another in a ring, newest at `newest`. */
class History {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly window = new Float64Array(FFT_SIZE);

  constructor(partitionCount: number) {
    this.re = new Float64Array(partitionCount * BINS);
    this.im = new Float64Array(partitionCount * BINS);
  }

  reset(): void {
    this.window.fill(0);
    this.re.fill(0);
    this.im.fill(0);
  }

  passState(tape: StateTape): void {
    tape.array(this.re);
    tape.array(this.im);
    tape.array(this.window);
  }
}

/**
 * A long FIR filter by uniformly partitioned overlap-save convolution: y[n] = sum over k of taps[k] x[n - k].
 * Partitions of TICK taps stand on the chain's grid, so that the result depends on song time alone. One real transform per
 * channel: packing two channels into one complex transform would leak 1e-16 of one into the other.
 * Source: T. G. Stockham, "High-Speed Convolution and Correlation", AFIPS 1966 (overlap-save); uniform partitions after
 * W. G. Gardner, "Efficient Convolution without Input-Output Delay", JAES 43(3), 1995 (both from memory).
 *
 * Latency   none of its own beyond what the taps hold: the chain already works in whole ticks.
 * Realtime  nothing allocates after construction. `process` takes whole ticks only.
 * Changes   write `spareTaps`, then `commit`: the new filter is made and faded in from the next tick on, over FADE_TICKS. A
 *           commit during a fade waits for its end.
 */
export class PartitionedConvolver implements StereoUnit {
  readonly latencySamples = 0;
  /** Write the taps of the next filter here, all of them, before `commit`. */
  readonly spareTaps: Float64Array;
  // Parameters
  private now: TapSet;
  private next: TapSet;
  private readonly fade = new FadeClock();
  // State
  private readonly left: History;
  /** Null where only `processMono` is used. */
  private readonly pair: ChannelPair<History> | null;
  private newest = 0;
  // Work space
  private readonly partitionCount: number;
  private readonly fft = new RealFft(FFT_SIZE);
  private readonly binsRe = new Float64Array(BINS);
  private readonly binsIm = new Float64Array(BINS);
  private readonly sumRe = new Float64Array(BINS);
  private readonly sumIm = new Float64Array(BINS);
  private readonly output = new Float64Array(FFT_SIZE);
  /** The half of the output that is not wrapped round. */
  private readonly heardOutput = this.output.subarray(TICK);
  private readonly fadingOutput = new Float64Array(FFT_SIZE);
  private readonly partition = new Float64Array(TICK);

  /**
   * @param maxTaps longest filter, in taps.
   * @param channelCount 1 where only `processMono` is used, else 2.
   * @throws RangeError unless maxTaps is a whole number, at least 1.
   */
  constructor(maxTaps: number, channelCount: 1 | 2) {
    if (!(Number.isInteger(maxTaps) && maxTaps >= 1)) throw new RangeError(`maxTaps must be 1 or more, got ${maxTaps}`);
    this.partitionCount = Math.ceil(maxTaps / TICK);
    this.spareTaps = new Float64Array(this.partitionCount * TICK);
    this.now = emptyTapSet(this.partitionCount);
    this.next = emptyTapSet(this.partitionCount);
    this.left = new History(this.partitionCount);
    this.pair = channelCount === 1 ? null : new ChannelPair(this.left, new History(this.partitionCount));
  }

  /** Takes the spare taps over: at once and without a fade while no sound has passed, else from the next tick on. */
  commit(atOnce: boolean): void {
    if (atOnce) {
      this.transformInto(this.now);
      this.fade.settle();
    } else {
      this.fade.request();
    }
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    const { pair } = this;
    if (frameCount !== TICK || pair === null) return;
    const apart = pair.hear(left, right, TICK);
    this.beginTick();
    this.convolve(pair.left, left);
    if (apart) this.convolve(pair.right, right);
    else right.set(left);
    this.endTick();
  }

  /** One tick that is heard and remembered, but whose output nobody needs: for a fraction of the cost. */
  listen(left: Float64Array, right: Float64Array): void {
    const { pair } = this;
    if (pair === null) return;
    const apart = pair.hear(left, right, TICK);
    this.beginTick();
    this.hear(pair.left, left);
    if (apart) this.hear(pair.right, right);
    this.endTick();
  }

  /** One channel only, one tick, in place. */
  processMono(samples: Float64Array): void {
    this.beginTick();
    this.convolve(this.left, samples);
    this.endTick();
  }

  reset(): void {
    this.left.reset();
    this.pair?.right.reset();
    this.pair?.reset();
    this.newest = 0;
    if (this.fade.waiting) this.commit(true);
    else if (this.fade.running) this.swapSets();
    this.fade.settle();
  }

  passState(tape: StateTape): void {
    if (this.pair === null) this.left.passState(tape);
    else this.pair.passState(tape);
    this.newest = tape.value(this.newest);
  }

  /** Nothing to do: what enters is flushed, and what is held comes from that. */
  flush(): void {
    return;
  }

  private beginTick(): void {
    if (this.fade.beginTick()) this.transformInto(this.next);
    this.newest = this.newest + 1 === this.partitionCount ? 0 : this.newest + 1;
  }

  private endTick(): void {
    if (this.fade.endTick()) this.swapSets();
  }

  private swapSets(): void {
    const old = this.now;
    this.now = this.next;
    this.next = old;
  }

  private transformInto(set: TapSet): void {
    const { spareTaps, partition, partitionCount } = this;
    set.first = partitionCount;
    set.last = -1;
    for (let p = 0; p < partitionCount; p++) {
      let silent = true;
      for (let k = 0; k < TICK; k++) {
        const tap = flushed(spareTaps[p * TICK + k]!);
        partition[k] = tap;
        if (tap !== 0) silent = false;
      }
      if (silent) continue;
      if (p < set.first) set.first = p;
      for (let q = set.last + 1; q < p; q++) if (q > set.first) clearPartition(set, q);
      set.last = p;
      this.fft.forward(partition, this.binsRe, this.binsIm);
      set.re.set(this.binsRe, p * BINS);
      set.im.set(this.binsIm, p * BINS);
    }
  }

  private hear(history: History, samples: Float64Array): void {
    const { window } = history;
    window.copyWithin(0, TICK);
    copyFlushed(samples, window, TICK, TICK);
    this.fft.forward(window, this.binsRe, this.binsIm);
    history.re.set(this.binsRe, this.newest * BINS);
    history.im.set(this.binsIm, this.newest * BINS);
  }

  private convolve(history: History, samples: Float64Array): void {
    this.hear(history, samples);
    this.filter(history, this.now, this.output);
    const { output } = this;
    if (!this.fade.running) {
      samples.set(this.heardOutput);
      return;
    }
    this.filter(history, this.next, this.fadingOutput);
    const from = this.fade.frame;
    for (let n = 0; n < TICK; n++) {
      const old = output[n + TICK]!;
      samples[n] = old + FADE_CURVE[from + n]! * (this.fadingOutput[n + TICK]! - old);
    }
  }

  private filter(history: History, set: TapSet, output: Float64Array): void {
    const { sumRe, sumIm, partitionCount } = this;
    const { re: xRe, im: xIm } = history;
    const { re: hRe, im: hIm, last } = set;
    sumRe.fill(0);
    sumIm.fill(0);
    let p = set.first;
    while (p <= last) {
      const slot = this.newest >= p ? this.newest - p : this.newest - p + partitionCount;
      // two at once where the ring does not end between them: the sums are read and written half as often
      if (p < last && slot > 0) {
        multiplyAddTwo(xRe, xIm, slot * BINS, hRe, hIm, p * BINS, sumRe, sumIm);
        p += 2;
      } else {
        multiplyAdd(xRe, xIm, slot * BINS, hRe, hIm, p * BINS, sumRe, sumIm);
        p += 1;
      }
    }
    this.fft.inverse(sumRe, sumIm, output);
  }
}

/** Adds the product of the spectra that begin at `x` and `h`. */
function multiplyAdd(
  xRe: Float64Array,
  xIm: Float64Array,
  x: number,
  hRe: Float64Array,
  hIm: Float64Array,
  h: number,
  sumRe: Float64Array,
  sumIm: Float64Array,
): void {
  for (let k = 0; k < BINS; k++) {
    const aRe = xRe[x + k]!;
    const aIm = xIm[x + k]!;
    const bRe = hRe[h + k]!;
    const bIm = hIm[h + k]!;
    sumRe[k] = sumRe[k]! + (aRe * bRe - aIm * bIm);
    sumIm[k] = sumIm[k]! + (aRe * bIm + aIm * bRe);
  }
}

/** The same, then that of the spectrum one tick older and the partition after; the very bits of two single steps. */
function multiplyAddTwo(
  xRe: Float64Array,
  xIm: Float64Array,
  x: number,
  hRe: Float64Array,
  hIm: Float64Array,
  h: number,
  sumRe: Float64Array,
  sumIm: Float64Array,
): void {
  const older = x - BINS;
  const after = h + BINS;
  for (let k = 0; k < BINS; k++) {
    const aRe = xRe[x + k]!;
    const aIm = xIm[x + k]!;
    const bRe = hRe[h + k]!;
    const bIm = hIm[h + k]!;
    const cRe = xRe[older + k]!;
    const cIm = xIm[older + k]!;
    const dRe = hRe[after + k]!;
    const dIm = hIm[after + k]!;
    sumRe[k] = sumRe[k]! + (aRe * bRe - aIm * bIm) + (cRe * dRe - cIm * dIm);
    sumIm[k] = sumIm[k]! + (aRe * bIm + aIm * bRe) + (cRe * dIm + cIm * dRe);
  }
}

function emptyTapSet(partitionCount: number): TapSet {
  const bins = partitionCount * BINS;
  return { re: new Float64Array(bins), im: new Float64Array(bins), first: partitionCount, last: -1 };
}

function clearPartition(set: TapSet, index: number): void {
  set.re.fill(0, index * BINS, (index + 1) * BINS);
  set.im.fill(0, index * BINS, (index + 1) * BINS);
}
