import { frameCountOf, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { declarationOf } from '../treatment/stage-registry.js';
import type { StageContext, StageUnit } from '../treatment/stage.js';
import { TICK_FRAMES } from '../treatment/treatment-chain.js';
import type { StageInstance } from '../treatment/treatment.js';
import type { TappedSound } from './render-tap.js';

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
  const unit = declarationOf(instance.stage).create(context);
  unit.configure(instance, true);
  unit.seek(input.firstSongSample);
  const frameCount = frameCountOf(input.signal);
  const ticks = Math.ceil((frameCount + unit.latencySamples) / TICK_FRAMES);
  const left = new Float64Array(frameCount);
  const right = new Float64Array(frameCount);
  const meter_dB = new Float64Array(Math.ceil(frameCount / TICK_FRAMES));
  const tick = { left: new Float64Array(TICK_FRAMES), right: new Float64Array(TICK_FRAMES) };
  for (let t = 0; t < ticks; t++) {
    fillTick(tick, input.signal, t * TICK_FRAMES);
    giveKey(unit, key, t * TICK_FRAMES);
    unit.process(tick.left, tick.right, TICK_FRAMES);
    unit.flush();
    if (t < meter_dB.length) meter_dB[t] = unit.meter_dB ?? NaN;
    copyOut(tick.left, left, t * TICK_FRAMES - unit.latencySamples);
    copyOut(tick.right, right, t * TICK_FRAMES - unit.latencySamples);
  }
  const signal = { left, right, sampleRate_Hz: input.signal.sampleRate_Hz };
  return { signal, firstSongSample: input.firstSongSample, meter_dB };
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

function copyOut(tick: Float64Array, to: Float64Array, at: number): void {
  for (let n = Math.max(0, -at); n < TICK_FRAMES && at + n < to.length; n++) to[at + n] = tick[n]!;
}
