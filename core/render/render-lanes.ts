import { TICK } from '../dsp/stereo-unit.js';
import { frameCountOf, type StereoSignal } from '../signal/stereo-signal.js';
import { split, type SplitUnit } from '../treatment/split.js';
import type { StageContext } from '../treatment/stage.js';
import type { StageInstance } from '../treatment/treatment.js';

/** The lanes that a split makes of a sound, and what they sum to: the sound itself, or all-passed where it is recursive. */
export interface RenderedLanes {
  readonly low: StereoSignal;
  readonly high: StereoSignal;
  readonly sum: StereoSignal;
}

/** Runs the split alone on a sound from song sample 0, its latency taken out, length kept. */
export function renderLanes(instance: StageInstance, input: StereoSignal, context: StageContext): RenderedLanes {
  const unit = split.create(context) as SplitUnit;
  unit.setNeed('always');
  unit.configure({ ...instance, on: true }, true);
  unit.seek(0);
  const frameCount = frameCountOf(input);
  const blank = (): StereoSignal & { left: Float64Array; right: Float64Array } => ({
    left: new Float64Array(frameCount),
    right: new Float64Array(frameCount),
    sampleRate_Hz: input.sampleRate_Hz,
  });
  const lanes = { low: blank(), high: blank(), sum: blank() };
  const left = new Float64Array(TICK);
  const right = new Float64Array(TICK);
  for (let at = 0; at < frameCount + unit.latencySamples; at += TICK) {
    for (let n = 0; n < TICK; n++) {
      left[n] = input.left[at + n] ?? 0;
      right[n] = input.right[at + n] ?? 0;
    }
    unit.process(left, right, TICK);
    unit.flush();
    const to = at - unit.latencySamples;
    copyOut(unit.lowLeft, lanes.low.left, to);
    copyOut(unit.lowRight, lanes.low.right, to);
    copyOut(unit.highLeft, lanes.high.left, to);
    copyOut(unit.highRight, lanes.high.right, to);
    copyOut(left, lanes.sum.left, to);
    copyOut(right, lanes.sum.right, to);
  }
  return lanes;
}

function copyOut(tick: Float64Array, to: Float64Array, at: number): void {
  for (let n = Math.max(0, -at); n < TICK && at + n < to.length; n++) to[at + n] = tick[n]!;
}
