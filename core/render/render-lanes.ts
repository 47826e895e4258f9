import { TICK } from '../dsp/stereo-unit.js';
import { frameCountOf, isMono, type StereoSignal } from '../signal/stereo-signal.js';
import { split, turnCornerOf, type SplitUnit } from '../treatment/split.js';
import type { StageContext } from '../treatment/stage.js';
import type { StageInstance } from '../treatment/treatment.js';
import { SignalTake } from './signal-take.js';

/** The lanes that a split makes of a sound, and what they sum to: the sound itself, or all-passed where it is recursive. */
export interface RenderedLanes {
  readonly low: StereoSignal;
  readonly high: StereoSignal;
  readonly sum: StereoSignal;
}

/** Sound between two pauses. */
const TICKS_PER_STEP = 1024;

/**
 * Runs the split alone on a sound from song sample 0, its latency taken out, length kept, for whoever only measures the lanes:
 * kept as Float32, a mono sound as one channel, with a pause every few seconds of sound.
 */
export async function renderLanes(
  instance: StageInstance,
  input: StereoSignal,
  context: StageContext,
  pause: () => Promise<unknown>,
): Promise<RenderedLanes> {
  const unit = split.create(context) as SplitUnit;
  const on = { ...instance, on: true };
  unit.setNeed('always');
  unit.configure(on, true);
  unit.seek(0);
  const frameCount = frameCountOf(input);
  const take = () => new SignalTake(frameCount, input.sampleRate_Hz, 'float32', isMono(input));
  const low = take();
  const high = take();
  const sum = turnCornerOf(on) > 0 ? take() : null;
  const left = new Float64Array(TICK);
  const right = new Float64Array(TICK);
  for (let tick = 0; tick * TICK < frameCount + unit.latencySamples; tick++) {
    const at = tick * TICK;
    for (let n = 0; n < TICK; n++) {
      left[n] = input.left[at + n] ?? 0;
      right[n] = input.right[at + n] ?? 0;
    }
    unit.process(left, right, TICK);
    unit.flush();
    const to = at - unit.latencySamples;
    low.put(unit.lowLeft, unit.lowRight, to);
    high.put(unit.highLeft, unit.highRight, to);
    sum?.put(left, right, to);
    if (tick % TICKS_PER_STEP === TICKS_PER_STEP - 1) await pause();
  }
  return { low: low.signal, high: high.signal, sum: sum?.signal ?? input };
}
