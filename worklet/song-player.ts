import { DelayLine } from '../core/dsp/delay-line.js';
import type { StateTape } from '../core/dsp/state-tape.js';
import { flushed, TICK } from '../core/dsp/stereo-unit.js';
import type { SoundHash } from '../core/signal/sound-hash.js';
import type { TreatmentFrom } from '../core/treatment/setting-changes.js';
import { TreatmentChain, type ChainBlock } from '../core/treatment/treatment-chain.js';
import type { Treatment } from '../core/treatment/treatment.js';
import { ENGINE_OUTPUTS, type LaneName } from '../protocol/engine-messages.js';
import { LaneListener, type Pair } from './lane-listener.js';
import type { SongChunks } from './song-chunks.js';

const ROLES = ['kick', 'bass', 'rest'] as const;
const TREATED_LANE = ENGINE_OUTPUTS.indexOf('treated lane');
const SOURCE_LANE = ENGINE_OUTPUTS.indexOf('source lane');

/** Fingerprints of the treated buses. */
export type BusHashes = Readonly<Record<(typeof ROLES)[number], SoundHash>>;

/**
 * Plays the song through a treatment from a place on: the chain, the untreated sound delayed to be in time with it, and where
 * both stand. Runs whole ticks of song time, so that its bits do not depend on the host's block.
 */
export class SongPlayer {
  /** One pair for each of ENGINE_OUTPUTS: the tick that is being given out. */
  readonly outputs: readonly Pair[] = ENGINE_OUTPUTS.map(newPair);
  private readonly chain: TreatmentChain;
  private readonly lane: LaneListener | null;
  private readonly delays: readonly DelayLine[];
  private readonly buses = { kick: this.outputs[0]!, bass: this.outputs[1]!, rest: this.outputs[2]! };
  private changes: readonly TreatmentFrom[];
  private nextChange = 0;
  /** Song sample that enters next. */
  private inputAt = 0;
  /** Frames of the present tick that were given out, or are not wanted. */
  private cursor = TICK;
  /** Frames still to be run unheard. */
  private unheard = 0;
  private begunAt = 0;
  private changed = false;

  /**
   * @param make players of one make have the same stages, lists and lane: one can take up another's state.
   * @throws PlainError where the treatment cannot be built.
   */
  constructor(
    private treatment: Treatment,
    lane: LaneName | null,
    changes: readonly TreatmentFrom[],
    readonly make: number,
  ) {
    this.chain = new TreatmentChain(treatment);
    this.lane = lane === null ? null : new LaneListener(this.chain, treatment, lane);
    this.delays = ROLES.map(() => new DelayLine(this.chain.latencySamples));
    this.changes = changes;
  }

  get latencySamples(): number {
    return this.chain.latencySamples;
  }

  /** Song sample of the next frame that is given out. */
  get position(): number {
    return this.inputAt - this.latencySamples - TICK + this.cursor + this.unheard;
  }

  /** Whether the next frame to give out is one that is to be heard. */
  get ready(): boolean {
    return this.unheard === 0;
  }

  /** Frames that can be given out before the next tick is run. */
  get available(): number {
    return TICK - this.cursor;
  }

  /** The next frame given out is to be `target`; `preRoll` frames before it are run unheard, fewer at the song's start. */
  place(target: number, preRoll: number): void {
    const begin = Math.max(0, Math.floor((target - preRoll) / TICK) * TICK);
    this.chain.seek(begin);
    this.lane?.seek(begin);
    for (let i = 0; i < this.delays.length; i++) this.delays[i]!.reset();
    this.inputAt = begin;
    this.cursor = TICK;
    this.unheard = target - begin + this.latencySamples;
    this.nextChange = 0;
    while (this.nextChange < this.changes.length && this.changes[this.nextChange]!.sample <= begin) this.takeChange();
    this.begunAt = begin;
    this.changed = this.nextChange > 0;
  }

  /** Frames that were run up to here since the player was placed; the whole song before is as good as any number of them. */
  get settledFor(): number {
    if (this.changed) return 0;
    return this.begunAt === 0 ? Infinity : this.position - this.begunAt;
  }

  /** Takes up the place and the state of another player of the same make and settings, from a tape that it was written on. */
  resume(tape: StateTape): void {
    if (this.changed) this.place(0, 0); // ends what is under way
    tape.read(this);
  }

  passState(tape: StateTape): void {
    this.chain.passState(tape);
    this.lane?.passState(tape);
    for (let i = 0; i < this.delays.length; i++) this.delays[i]!.passState(tape);
    for (let o = 0; o < this.outputs.length; o++) {
      tape.array(this.outputs[o]!.left);
      tape.array(this.outputs[o]!.right);
    }
    this.inputAt = tape.value(this.inputAt);
    this.cursor = tape.value(this.cursor);
    this.unheard = tape.value(this.unheard);
    this.begunAt = tape.value(this.begunAt);
    this.nextChange = tape.value(this.nextChange);
  }

  /** Takes settings over while sound runs. @returns false where that needs a new player. */
  configure(treatment: Treatment): boolean {
    if (!this.chain.configure(treatment)) return false;
    this.treatment = treatment;
    this.changes = NO_CHANGES;
    this.nextChange = 0;
    this.changed = true;
    return true;
  }

  /** Whether the sound of the next ticks is at hand. */
  canRun(chunks: SongChunks, frames: number): boolean {
    return chunks.has(this.inputAt, this.inputAt + frames);
  }

  /** One tick more. What is to be run unheard is dropped. */
  runTick(chunks: SongChunks): void {
    const { inputAt } = this;
    if (this.nextChange < this.changes.length && this.changes[this.nextChange]!.sample <= inputAt) this.takeChange();
    const sound = chunks.soundAt(inputAt);
    const from = chunks.offsetAt(inputAt);
    this.chain.process(sound, from, this.buses, 0, TICK);
    // what will have left the delays when something is heard need not enter them
    const soon = this.unheard <= this.latencySamples + TICK;
    for (let r = 0; soon && r < ROLES.length; r++) this.passSource(sound[ROLES[r]!], from, r);
    this.lane?.run(sound, from, this.outputs[TREATED_LANE]!, this.outputs[SOURCE_LANE]!);
    this.inputAt += TICK;
    this.cursor = Math.min(TICK, this.unheard);
    this.unheard -= this.cursor;
  }

  /** Adds `count` frames, times the gains, to the outputs from `at` on. Outputs the host does not offer are left out. */
  give(outputs: readonly (readonly Float32Array[])[], at: number, count: number, gains: Float64Array): void {
    for (let o = 0; o < this.outputs.length && o < outputs.length; o++) {
      const pair = this.outputs[o]!;
      addTo(outputs[o]![0], at, pair.left, this.cursor, count, gains);
      addTo(outputs[o]![1], at, pair.right, this.cursor, count, gains);
    }
  }

  /** Adds the frames to the fingerprints. */
  hash(hashes: BusHashes, count: number): void {
    for (let r = 0; r < ROLES.length; r++) {
      const bus = this.outputs[r]!;
      hashes[ROLES[r]!].add(bus.left, bus.right, this.cursor, this.cursor + count);
    }
  }

  /** The next frames. */
  step(count: number): void {
    this.cursor += count;
  }

  private takeChange(): void {
    this.treatment = this.changes[this.nextChange]!.treatment;
    this.chain.configure(this.treatment);
    this.nextChange += 1;
    this.changed = true;
  }

  private passSource(blocks: readonly ChainBlock[], from: number, role: number): void {
    const { left, right } = this.outputs[ROLES.length + role]!;
    left.fill(0);
    right.fill(0);
    for (let t = 0; t < blocks.length; t++) {
      const block = blocks[t]!;
      for (let n = 0; n < TICK; n++) {
        left[n] = left[n]! + flushed(block.left[from + n]!);
        right[n] = right[n]! + flushed(block.right[from + n]!);
      }
    }
    this.delays[role]!.process(left, right, TICK);
  }
}

const NO_CHANGES: readonly TreatmentFrom[] = [];

function newPair(): Pair {
  return { left: new Float64Array(TICK), right: new Float64Array(TICK) };
}

function addTo(
  to: Float32Array | undefined,
  at: number,
  from: Float64Array,
  begin: number,
  count: number,
  gains: Float64Array,
): void {
  if (to === undefined) return;
  for (let n = 0; n < count; n++) to[at + n] = to[at + n]! + gains[n]! * from[begin + n]!;
}
