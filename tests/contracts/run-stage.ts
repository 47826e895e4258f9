import { kaiser } from '../../core/dsp/kaiser-window.js';
import { TICK } from '../../core/dsp/stereo-unit.js';
import type { Hit, Note } from '../../core/song/song.js';
import { defaultInstance, type StageDeclaration, type StageUnit } from '../../core/treatment/stage.js';
import type { StageInstance } from '../../core/treatment/treatment.js';

/** For the tests of stages: a stage on, with some settings and figures, run over a signal in ticks as the chain does. */
export interface StageSetUp {
  readonly sampleRate_Hz?: number;
  readonly notes?: readonly Note[];
  readonly hits?: readonly Hit[];
  readonly on?: boolean;
  readonly settings?: StageInstance['settings'];
  readonly figures?: StageInstance['figures'];
}

export function stageInstance(declaration: StageDeclaration, setUp: StageSetUp): StageInstance {
  const plain = defaultInstance(declaration);
  return {
    ...plain,
    on: setUp.on ?? true,
    settings: { ...plain.settings, ...setUp.settings },
    figures: { ...setUp.figures },
  };
}

export function createStage(declaration: StageDeclaration, setUp: StageSetUp = {}): StageUnit {
  const unit = declaration.create({
    sampleRate_Hz: setUp.sampleRate_Hz ?? 48_000,
    notes: setUp.notes ?? [],
    hits: setUp.hits ?? [],
  });
  unit.configure(stageInstance(declaration, setUp), true);
  unit.seek(0);
  return unit;
}

/** Runs whole ticks (the signal is filled up with silence), `afterTick` called with the frames done. */
export function runStage(
  unit: StageUnit,
  left: Float64Array,
  right: Float64Array = left,
  afterTick: (frames: number) => void = () => undefined,
): { left: Float64Array; right: Float64Array } {
  const length = Math.ceil(left.length / TICK) * TICK;
  const out = { left: new Float64Array(length), right: new Float64Array(length) };
  out.left.set(left);
  out.right.set(right);
  for (let at = 0; at < length; at += TICK) {
    unit.process(out.left.subarray(at, at + TICK), out.right.subarray(at, at + TICK), TICK);
    unit.flush();
    afterTick(at + TICK);
  }
  return out;
}

/** A sine of peak `amplitude`, its phase in cycles at frame 0. */
export function sine(
  frequency_Hz: number,
  seconds: number,
  amplitude = 1,
  sampleRate_Hz = 48_000,
  phase_cycles = 0,
): Float64Array {
  return Float64Array.from(
    { length: Math.round(seconds * sampleRate_Hz) },
    (_, n) => amplitude * Math.sin(2 * Math.PI * ((frequency_Hz * n) / sampleRate_Hz + phase_cycles)),
  );
}

/** A note of a list, all that stages read of it. */
export function note(start_s: number, end_s: number, frequency_Hz: number, level_dBFS = -12): Note {
  return {
    start_s,
    end_s,
    frequency_Hz,
    level_dBFS,
    harmonics_dB: [0, -6, -12, -18, -24, -30, -36, -42],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0.01,
  };
}

/** Peak in dBFS of what a linear-phase Kaiser-windowed (beta 12) high-pass leaves of a signal, its edges left out. */
export function peakAbove_dBFS(signal: Float64Array, corner_Hz: number, sampleRate_Hz = 48_000): number {
  const half = Math.round((6 * sampleRate_Hz) / corner_Hz);
  const taps = new Float64Array(2 * half + 1);
  let sum = 0;
  for (let k = -half; k <= half; k++) {
    const x = (2 * corner_Hz * k) / sampleRate_Hz;
    const sinc = k === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    taps[k + half] = sinc * kaiser(k / half, 12);
    sum += taps[k + half]!;
  }
  let peak = 0;
  for (let n = half; n < signal.length - half; n += 1) {
    let low = 0;
    for (let k = -half; k <= half; k++) low += taps[k + half]! * signal[n + k]!;
    peak = Math.max(peak, Math.abs(signal[n]! - low / sum));
  }
  return 20 * Math.log10(peak);
}

/** 10 lg of the mean square of frames from..to. */
export function level_dB(signal: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let n = from; n < to; n++) sum += signal[n]! ** 2;
  return 10 * Math.log10(sum / (to - from));
}
