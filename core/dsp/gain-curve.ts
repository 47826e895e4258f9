import { dB_to_amplitude } from '../units/decibels.js';
import { raisedCosine } from './raised-cosine.js';
import { SmoothValue } from './smooth-value.js';

/** Raised-cosine moves between levels in dB, by song sample: a pure function of the sample, with a cursor for speed. */
class MoveTable {
  readonly starts: Float64Array;
  readonly lengths: Float64Array;
  readonly froms_dB: Float64Array;
  readonly tos_dB: Float64Array;
  count = 0;
  initial_dB = 0;
  private cursor = -1;

  constructor(capacity: number) {
    this.starts = new Float64Array(capacity);
    this.lengths = new Float64Array(capacity);
    this.froms_dB = new Float64Array(capacity);
    this.tos_dB = new Float64Array(capacity);
  }

  begin(initial_dB: number): void {
    this.count = 0;
    this.cursor = -1;
    this.initial_dB = initial_dB;
  }

  add(start: number, length: number, to_dB: number): void {
    const { count, starts } = this;
    if (count >= starts.length) return;
    const from = count > 0 && start < starts[count - 1]! ? starts[count - 1]! : start;
    this.froms_dB[count] = this.level_dB(from);
    starts[count] = from;
    this.lengths[count] = length - (from - start);
    this.tos_dB[count] = to_dB;
    this.count = count + 1;
  }

  level_dB(sample: number): number {
    const { starts, count } = this;
    let at = this.cursor;
    while (at >= 0 && starts[at]! > sample) at--;
    while (at + 1 < count && starts[at + 1]! <= sample) at++;
    this.cursor = at;
    if (at < 0) return this.initial_dB;
    const to_dB = this.tos_dB[at]!;
    const length = this.lengths[at]!;
    const since = sample - starts[at]!;
    if (since >= length) return to_dB;
    const from_dB = this.froms_dB[at]!;
    return from_dB + (to_dB - from_dB) * raisedCosine(since / length);
  }
}

/**
 * A gain compiled from a list (notes, hits): levels in dB, moved from one to the next by raised cosines at given song samples.
 * The gain is a function of the song sample alone, so it is the same live and printed, at any block and after any seek.
 *
 * Compile with `begin`, `move` in the order of time, `commit`. A later move that begins inside an earlier one starts from the
 * level reached there. A commit while sound is running cross-fades from the old curve to the new (see `SmoothValue`); one that
 * comes during a cross-fade waits for its end. Nothing is allocated after construction.
 */
export class GainCurve {
  private current: MoveTable;
  private next: MoveTable;
  private pending: MoveTable;
  private hasPending = false;
  private fading = false;
  private readonly fade = new SmoothValue(1);
  private readonly weights = new Float64Array(128);
  private lastLevel_dB = 0;
  private lastGain = 1;

  /** @param capacity the most moves a curve may have; further ones are left out. */
  constructor(capacity: number) {
    this.current = new MoveTable(capacity);
    this.next = new MoveTable(capacity);
    this.pending = new MoveTable(capacity);
  }

  /** Begins a new curve that stands at `initial_dB` until its first move. */
  begin(initial_dB: number): void {
    this.pending.begin(initial_dB);
  }

  /** A move that starts at a song sample, lasts `length` samples and ends at `to_dB`. */
  move(start_samples: number, length_samples: number, to_dB: number): void {
    this.pending.add(start_samples, length_samples, to_dB);
  }

  /** Puts the new curve to work: at once, or by a cross-fade from the next tick on. */
  commit(atOnce: boolean): void {
    if (atOnce) {
      this.swapPendingInto('current');
      this.fading = false;
      this.hasPending = false;
    } else {
      this.hasPending = true;
    }
  }

  /** True while the curve is 0 dB everywhere and no fade is under way: the caller may leave the sound alone. */
  get idle(): boolean {
    return !this.fading && !this.hasPending && this.current.count === 0 && this.current.initial_dB === 0;
  }

  /** The level of the running curve at a song sample, without cross-fade. */
  level_dB(songSample: number): number {
    return this.current.level_dB(songSample);
  }

  /** Linear gains of `frameCount` (<= 128) frames from `songSample` on. */
  fill(songSample: number, gains: Float64Array, frameCount: number): void {
    if (this.hasPending && !this.fading) this.startFade();
    if (!this.fading) {
      for (let i = 0; i < frameCount; i++) gains[i] = this.gain(this.current, songSample + i);
      return;
    }
    this.fade.fill(this.weights, frameCount);
    for (let i = 0; i < frameCount; i++) gains[i] = this.gain(this.current, songSample + i);
    for (let i = 0; i < frameCount; i++) {
      gains[i] = gains[i]! + this.weights[i]! * (this.gain(this.next, songSample + i) - gains[i]!);
    }
    if (this.fade.settled) this.endFade();
  }

  /** Ends a cross-fade that is under way; the newest curve stays. */
  reset(): void {
    if (this.fading) this.endFade();
    if (this.hasPending) this.swapPendingInto('current');
    this.hasPending = false;
  }

  private gain(table: MoveTable, songSample: number): number {
    const level_dB = table.level_dB(songSample);
    if (level_dB !== this.lastLevel_dB) {
      this.lastLevel_dB = level_dB;
      this.lastGain = level_dB === 0 ? 1 : dB_to_amplitude(level_dB);
    }
    return this.lastGain;
  }

  private startFade(): void {
    this.swapPendingInto('next');
    this.hasPending = false;
    this.fading = true;
    this.fade.set(0, true);
    this.fade.set(1, false);
  }

  private endFade(): void {
    const old = this.current;
    this.current = this.next;
    this.next = old;
    this.fading = false;
    this.fade.set(1, true);
  }

  private swapPendingInto(place: 'current' | 'next'): void {
    const old = this[place];
    this[place] = this.pending;
    this.pending = old;
  }
}
