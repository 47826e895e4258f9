import type { StateTape } from './state-tape.js';
import { sinCycles } from '../units/exact-math.js';
import { clamp, type Samples } from '../units/units.js';
import { copyFlushed } from './block-arithmetic.js';
import { FADE_CURVE, FadeClock } from './cross-fade.js';
import { kaiser } from './kaiser-window.js';
import { TICK, type StereoUnit } from './stereo-unit.js';

const TAPS = 64;
const BETA = 9;
/** Taps of the kernel before its centre, at a whole shift. */
const BEFORE = TAPS / 2 - 1;

/** One reading point: `gain` times the input `offset` samples ago, or the 64 taps from there on. */
interface ReadingPoint {
  offset: number;
  gain: number;
  whole: boolean;
  readonly taps: Float64Array;
}

/**
 * Moves a sound in time by a fraction of a sample and turns its polarity, behind a fixed latency, so that it may also be
 * moved ahead: y(t) = gain x(t - shift). 64 taps of a sinc under a Kaiser window of beta 9, scaled to gain 1 at 0 Hz: error
 * under -94 dB below 16 kHz at 48 kHz (measured for this project). A whole shift is exact to the bit.
 * Source: T. I. Laakso, V. Valimaki, M. Karjalainen, U. K. Laine, "Splitting the Unit Delay", IEEE Signal Processing
 * Magazine 13(1), 1996 (from memory).
 *
 * Latency   ceil(maxShift) + 32 samples, whatever the shift.
 * Realtime  nothing is allocated after construction. `process` takes whole ticks only.
 * Changes   cross-fade from the old reading point to the new one, from the next tick on.
 */
export class FractionalDelay implements StereoUnit {
  readonly latencySamples: Samples;
  // Parameters
  private now = emptyReadingPoint();
  private next = emptyReadingPoint();
  private wantedShift_samples = 0;
  private wantedGain = 1;
  private readonly fade = new FadeClock();
  // State: the last samples, in a ring
  private readonly left: Float64Array;
  private readonly right: Float64Array;
  private readonly mask: number;
  private at = 0;
  // Work space: what the taps meet in one tick, and one sample more that is read ahead
  private readonly span = new Float64Array(TICK + TAPS);

  /** @throws RangeError unless maxShift_samples is 0 or more. */
  constructor(private readonly maxShift_samples: Samples) {
    if (!(maxShift_samples >= 0)) throw new RangeError(`maxShift_samples must be 0 or more, got ${maxShift_samples}`);
    this.latencySamples = Math.ceil(maxShift_samples) + TAPS / 2;
    let size = 1;
    while (size < 2 * this.latencySamples + TAPS + TICK) size *= 2;
    this.left = new Float64Array(size);
    this.right = new Float64Array(size);
    this.mask = size - 1;
    this.place(this.now);
  }

  /** @param shift_samples later where positive; clamped to the range. @param gain usually 1 or -1. */
  setShift(shift_samples: Samples, gain: number, atOnce: boolean): void {
    if (Number.isNaN(shift_samples) || Number.isNaN(gain)) return;
    const shift = clamp(shift_samples, -this.maxShift_samples, this.maxShift_samples);
    if (shift === this.wantedShift_samples && gain === this.wantedGain && !atOnce) return;
    this.wantedShift_samples = shift;
    this.wantedGain = gain;
    if (atOnce) {
      this.place(this.now);
      this.fade.settle();
    } else {
      this.fade.request();
    }
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (frameCount !== TICK) return;
    if (this.fade.beginTick()) this.place(this.next);
    // The ring is a whole number of ticks long, and a tick never lies across its end.
    copyFlushed(left, this.left, this.at, TICK);
    copyFlushed(right, this.right, this.at, TICK);
    this.read(this.left, left);
    this.read(this.right, right);
    this.at = (this.at + TICK) & this.mask;
    if (this.fade.endTick()) this.swapPoints();
  }

  reset(): void {
    this.left.fill(0);
    this.right.fill(0);
    this.at = 0;
    if (this.fade.waiting) this.place(this.now);
    else if (this.fade.running) this.swapPoints();
    this.fade.settle();
  }

  passState(tape: StateTape): void {
    tape.array(this.left);
    tape.array(this.right);
    this.at = tape.value(this.at);
  }

  /** Nothing to do: what enters is flushed. */
  flush(): void {
    return;
  }

  private swapPoints(): void {
    const old = this.now;
    this.now = this.next;
    this.next = old;
  }

  private place(point: ReadingPoint): void {
    const delay = this.latencySamples + this.wantedShift_samples;
    const whole = Math.floor(delay);
    const fraction = delay - whole;
    point.gain = this.wantedGain;
    point.whole = fraction === 0;
    point.offset = point.whole ? whole : whole - BEFORE;
    if (!point.whole) writeKernel(point.taps, fraction, point.gain);
  }

  private read(ring: Float64Array, output: Float64Array): void {
    const { fade } = this;
    if (!fade.running && !this.now.whole) {
      this.readSteadily(ring, output);
      return;
    }
    for (let n = 0; n < TICK; n++) {
      const old = this.valueAt(ring, this.now, n);
      output[n] = fade.running ? old + FADE_CURVE[fade.frame + n]! * (this.valueAt(ring, this.next, n) - old) : old;
    }
  }

  /**
   * Four frames at once, since each sum waits for its own last addition, and four taps, so that a sample is read once for all
   * the sums that it meets; each sum in the same order as `valueAt`.
   */
  private readSteadily(ring: Float64Array, output: Float64Array): void {
    const { mask, span } = this;
    const { taps, offset } = this.now;
    const oldest = this.at - offset - TAPS;
    for (let i = 0; i < span.length; i++) span[i] = ring[(oldest + i) & mask]!;
    for (let n = 0; n < TICK; n += 4) {
      const newest = n + TAPS;
      let sum0 = 0;
      let sum1 = 0;
      let sum2 = 0;
      let sum3 = 0;
      let x0 = span[newest]!;
      let x1 = span[newest + 1]!;
      let x2 = span[newest + 2]!;
      let x3 = span[newest + 3]!;
      for (let k = 0; k < TAPS; k += 4) {
        const tap0 = taps[k]!;
        sum0 += tap0 * x0;
        sum1 += tap0 * x1;
        sum2 += tap0 * x2;
        sum3 += tap0 * x3;
        const tap1 = taps[k + 1]!;
        x3 = span[newest - k - 1]!;
        sum0 += tap1 * x3;
        sum1 += tap1 * x0;
        sum2 += tap1 * x1;
        sum3 += tap1 * x2;
        const tap2 = taps[k + 2]!;
        x2 = span[newest - k - 2]!;
        sum0 += tap2 * x2;
        sum1 += tap2 * x3;
        sum2 += tap2 * x0;
        sum3 += tap2 * x1;
        const tap3 = taps[k + 3]!;
        x1 = span[newest - k - 3]!;
        sum0 += tap3 * x1;
        sum1 += tap3 * x2;
        sum2 += tap3 * x3;
        sum3 += tap3 * x0;
        x0 = span[newest - k - 4]!;
      }
      output[n] = sum0;
      output[n + 1] = sum1;
      output[n + 2] = sum2;
      output[n + 3] = sum3;
    }
  }

  private valueAt(ring: Float64Array, point: ReadingPoint, n: number): number {
    const { mask } = this;
    const newest = this.at + n - point.offset;
    if (point.whole) return point.gain * ring[newest & mask]!;
    const { taps } = point;
    let sum = 0;
    for (let k = 0; k < TAPS; k++) sum += taps[k]! * ring[(newest - k) & mask]!;
    return sum;
  }
}

function emptyReadingPoint(): ReadingPoint {
  return { offset: 0, gain: 1, whole: true, taps: new Float64Array(TAPS) };
}

/** Taps k = 0..63 of a sinc centred at 31 + fraction: sin(pi (x)) alternates in sign from tap to tap. */
function writeKernel(taps: Float64Array, fraction: number, gain: number): void {
  const centre = BEFORE + fraction;
  const size = sinCycles(fraction / 2);
  let sum = 0;
  for (let k = 0; k < TAPS; k++) {
    const x = k - centre;
    // sin(pi (k - 31 - f)) = (-1)^(k - 31) sin(-pi f)
    const sine = (k - BEFORE) % 2 === 0 ? -size : size;
    const value = (sine / (Math.PI * x)) * kaiser(x / (TAPS / 2), BETA);
    taps[k] = value;
    sum += value;
  }
  for (let k = 0; k < TAPS; k++) taps[k] = (taps[k]! * gain) / sum;
}
