import { frameCountOf, isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { declarationOf } from '../treatment/stage-registry.js';
import type { StageContext, StageUnit } from '../treatment/stage.js';
import { TICK_FRAMES } from '../treatment/treatment-chain.js';
import type { StageInstance } from '../treatment/treatment.js';
import type { TappedSound } from './render-tap.js';
import { SignalTake, type TakePrecision } from './signal-take.js';

export interface RenderedStage extends TappedSound {
  /** The stage's meter at the end of each tick of 128 frames of its input, in dB; NaN where it has none. */
  readonly meter_dB: Float64Array;
}

/**
 * One stage alone on the sound that reaches it, its latency taken out, length kept. Where the input was tapped with its lead
 * (`renderTap(..., true)`) the bits are those of the chain.
 * @param input the sound before the stage. @param key the kick bus over the same frames, for a keyed stage.
 */
export function renderStage(
  instance: StageInstance,
  input: TappedSound,
  context: StageContext,
  key: StereoSignal | null = null,
): RenderedStage {
  const run = new StageRun(instance, input, context, key, 'float64');
  run.advance(Infinity);
  return run.rendered;
}

/** Sound between two pauses of `renderStageWithPauses`. */
const TICKS_PER_STEP = 1024;

/**
 * The same for whoever only measures the sound: kept as Float32, a mono sound as one channel while the stage leaves it so, and
 * with a pause every few seconds of sound.
 */
export async function renderStageWithPauses(
  instance: StageInstance,
  input: TappedSound,
  context: StageContext,
  key: StereoSignal | null,
  pause: () => Promise<unknown>,
): Promise<RenderedStage> {
  const run = new StageRun(instance, input, context, key, 'float32');
  while (run.advance(TICKS_PER_STEP)) await pause();
  return run.rendered;
}

class StageRun {
  private readonly unit: StageUnit;
  private readonly take: SignalTake;
  private readonly meter_dB: Float64Array;
  private readonly ticks: number;
  private readonly block = { left: new Float64Array(TICK_FRAMES), right: new Float64Array(TICK_FRAMES) };
  private next = 0;

  constructor(
    instance: StageInstance,
    private readonly input: TappedSound,
    context: StageContext,
    private readonly key: StereoSignal | null,
    precision: TakePrecision,
  ) {
    this.unit = declarationOf(instance.stage).create(context);
    this.unit.configure(instance, true);
    this.unit.seek(input.firstSongSample);
    const { signal } = input;
    const frameCount = frameCountOf(signal);
    this.ticks = Math.ceil((frameCount + this.unit.latencySamples) / TICK_FRAMES);
    this.take = new SignalTake(frameCount, signal.sampleRate_Hz, precision, precision === 'float32' && isMono(signal));
    this.meter_dB = new Float64Array(Math.ceil(frameCount / TICK_FRAMES));
  }

  /** Renders so many ticks more. @returns whether there are others. */
  advance(tickCount: number): boolean {
    const { unit, block, key, input, meter_dB } = this;
    const end = Math.min(this.ticks, this.next + tickCount);
    for (; this.next < end; this.next++) {
      const at = this.next * TICK_FRAMES;
      fillTick(block, input.signal, at);
      giveKey(unit, key, at);
      unit.process(block.left, block.right, TICK_FRAMES);
      unit.flush();
      if (this.next < meter_dB.length) meter_dB[this.next] = unit.meter_dB ?? NaN;
      this.take.put(block.left, block.right, at - unit.latencySamples);
    }
    return this.next < this.ticks;
  }

  get rendered(): RenderedStage {
    return { signal: this.take.signal, firstSongSample: this.input.firstSongSample, meter_dB: this.meter_dB };
  }
}

function fillTick(tick: { left: Float64Array; right: Float64Array }, signal: StereoSignal, at: number): void {
  copyIn(signal.left, tick.left, at);
  copyIn(signal.right, tick.right, at);
}

function giveKey(unit: StageUnit, key: StereoSignal | null, at: number): void {
  if (unit.key === undefined) return;
  if (key === null) {
    unit.key.left.fill(0);
    unit.key.right.fill(0);
  } else {
    fillTick(unit.key, key, at);
  }
}

function copyIn(from: Channel, tick: Float64Array, at: number): void {
  for (let n = 0; n < TICK_FRAMES; n++) tick[n] = at + n < from.length ? from[at + n]! : 0;
}
