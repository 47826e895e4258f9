import type { StateTape } from '../dsp/state-tape.js';
import { mixBlock } from '../dsp/block-arithmetic.js';
import { FADE_CURVE, FADE_TICKS } from '../dsp/cross-fade.js';
import { DelayLine } from '../dsp/delay-line.js';
import { TICK } from '../dsp/stereo-unit.js';
import type { StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

/** What the stage is doing: off, running unheard until its filters are full, coming in, on, going out. */
type Mode = 'off' | 'warming' | 'coming' | 'on' | 'going';

/**
 * What every stage has in common: it is written as a difference from its own delayed input,
 *   out = dry + share (wet - dry),   share 0 when off, 1 when on, a raised cosine between,
 * so that off is the delayed input to the bit, and switching makes no click. While off the stage costs its delay only; when
 * switched on it runs unheard for its latency first, so that what fades in is the settled sound.
 */
export abstract class DifferenceStage implements StageUnit {
  readonly latencySamples: number;
  /** Share of the wet sound in each frame of the last tick. */
  readonly share = new Float64Array(TICK);
  private mode: Mode = 'off';
  private ran = false;
  private wantedOn = false;
  private ticksLeft = 0;
  private readonly warmUpTicks: number;
  private readonly delay: DelayLine;
  private readonly wetLeft = new Float64Array(TICK);
  private readonly wetRight = new Float64Array(TICK);

  /** @param memorySamples how long the stage must run before its output is settled; its latency where nothing is said. */
  protected constructor(latencySamples: number, memorySamples: number = latencySamples) {
    this.latencySamples = latencySamples;
    this.delay = new DelayLine(latencySamples);
    this.warmUpTicks = Math.ceil((latencySamples + memorySamples) / TICK);
  }

  /** Takes over settings and figures; where `atOnce` is set nothing is heard of the stage yet. Never allocates. */
  protected abstract takeSettings(instance: StageInstance, atOnce: boolean): void;

  /**
   * One tick of the wet sound: `left` and `right` hold the input and are to hold the output, `latencySamples` late; `dryLeft`
   * and `dryRight` hold the delayed input and are not to be written.
   */
  protected abstract run(left: Float64Array, right: Float64Array, dryLeft: Float64Array, dryRight: Float64Array): void;

  /** Clears the state of the wet sound. */
  protected abstract clear(): void;

  /** Flushes the state of the wet sound. */
  protected abstract flushWet(): void;

  /** Shows the state of the wet sound to a tape. */
  protected abstract passWetState(tape: StateTape): void;

  /** Song time passes, also while the stage is off: for stages that follow a list. */
  protected moveTo(_songSample: number): void {
    return;
  }

  /** Whether the stage ran at all in the last tick, heard or not. */
  get running(): boolean {
    return this.ran;
  }

  configure(instance: StageInstance, atOnce: boolean): void {
    this.takeSettings(instance, atOnce || this.mode === 'off');
    this.wantedOn = this.isWanted(instance);
    if (atOnce) this.mode = this.wantedOn ? 'on' : 'off';
  }

  /** Whether the stage is to run with this instance: on, unless a stage knows better. */
  protected isWanted(instance: StageInstance): boolean {
    return instance.on;
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (frameCount !== TICK) return;
    this.beginTick();
    this.ran = this.mode !== 'off';
    if (this.mode === 'off') {
      this.delay.process(left, right, TICK);
      return;
    }
    const { wetLeft, wetRight, share } = this;
    wetLeft.set(left);
    wetRight.set(right);
    this.delay.process(left, right, TICK);
    this.run(wetLeft, wetRight, left, right);
    mixBlock(left, wetLeft, share, TICK);
    mixBlock(right, wetRight, share, TICK);
    this.endTick();
  }

  seek(songSample: number): void {
    this.reset();
    this.moveTo(songSample);
  }

  reset(): void {
    this.delay.reset();
    this.clear();
    this.mode = this.wantedOn ? 'on' : 'off';
    this.ran = this.wantedOn;
  }

  flush(): void {
    if (this.ran) this.flushWet();
  }

  passState(tape: StateTape): void {
    this.delay.passState(tape);
    this.passWetState(tape);
    this.ran = tape.flag(this.ran);
  }

  private beginTick(): void {
    if (this.wantedOn && this.mode === 'off') {
      this.clear();
      this.mode = 'warming';
      this.ticksLeft = this.warmUpTicks;
    } else if (!this.wantedOn && this.mode === 'warming') {
      this.mode = 'off';
    } else if (!this.wantedOn && this.mode === 'on') {
      this.mode = 'going';
      this.ticksLeft = FADE_TICKS;
    }
    if (this.mode === 'warming' && this.ticksLeft === 0) {
      this.mode = 'coming';
      this.ticksLeft = FADE_TICKS;
    }
    this.fillShare();
  }

  private fillShare(): void {
    const { share, mode } = this;
    if (mode === 'on') share.fill(1);
    else if (mode === 'off' || mode === 'warming') share.fill(0);
    else {
      const from = (FADE_TICKS - this.ticksLeft) * TICK;
      for (let n = 0; n < TICK; n++) {
        const come = FADE_CURVE[from + n]!;
        share[n] = mode === 'coming' ? come : 1 - come;
      }
    }
  }

  private endTick(): void {
    if (this.mode === 'on') return;
    this.ticksLeft -= 1;
    if (this.ticksLeft > 0) return;
    if (this.mode === 'coming') this.mode = 'on';
    else if (this.mode === 'going') this.mode = 'off';
  }
}
