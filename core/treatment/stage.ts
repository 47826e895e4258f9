import type { StereoUnit } from '../dsp/stereo-unit.js';
import type { Hit, Note } from '../song/song.js';
import type { SettingValue, StageId, StageInstance } from './treatment.js';

/**
 * How a stage declares itself, once: tables, help, JSON, the recall sheet and the screens draw themselves from this.
 * One stage per file; the file exports one `StageDeclaration`, and `stage-registry.ts` lists it.
 */
export interface SettingDeclaration {
  /** With its unit: `corner_Hz`, `cut_dB`. Unitless ones have none: `ratio`. */
  readonly key: string;
  /** As the engineer reads it: `corner`. */
  readonly name: string;
  readonly unit: string;
  readonly kind: 'number' | 'choice' | 'switch';
  /** For numbers. */
  readonly min?: number;
  readonly max?: number;
  readonly scale?: 'linear' | 'log';
  /** For choices. */
  readonly choices?: readonly string[];
  readonly default: SettingValue;
  /** One sentence: what it does, and what is usual. */
  readonly help: string;
}

/** The result that can be wanted of a stage, and where it is measured. */
export interface WishDeclaration {
  /** Address of the statistic: `clearance.share2dB`, `steady.loudNoteReduction_dB`. */
  readonly statistic: string;
  readonly name: string;
  readonly unit: string;
  /** Where `reached` is measured: in the printed file, at the lane, or inside the engine. */
  readonly source: 'file' | 'lane' | 'engine';
  /** The wish proposed where the engineer names none, as text: `>= 0.9`, `3..5`, `<= 1`. */
  readonly default: string;
  readonly help: string;
}

export interface FigureDeclaration {
  readonly key: string;
  readonly unit: string;
  readonly help: string;
}

export interface StageContext {
  readonly sampleRate_Hz: number;
  readonly notes: readonly Note[];
  readonly hits: readonly Hit[];
}

/**
 * A stage at work. `process` gets one tick: exactly TICK frames, in place; the output is `latencySamples` late, also when the
 * stage is off, when it must be the input to the bit. Written as a difference: out = x(delayed) + (stage(x) - x(delayed)).
 */
export interface StageUnit extends StereoUnit {
  /**
   * Takes over on/off, settings and figures. Never allocates, never throws (it runs on the audio thread); unknown or NaN values
   * keep the old ones, others are clamped to the declared range. Where sound is running, the change is made without a click:
   * gains ramp over one tick or more, filters cross-fade, beginning at the next tick.
   * @param atOnce true while no sound has passed yet: no ramp.
   */
  configure(instance: StageInstance, atOnce: boolean): void;
  /** The song sample that the next frame given to `process` has; tells list-driven stages where they are. Clears state. */
  seek(songSample: number): void;
  /** Key signal of the same tick (the kick bus, aligned to this stage's input), where a stage is keyed. */
  readonly key?: { left: Float64Array; right: Float64Array };
  /** What the stage is doing now, for meters and for the solver (gain reduction in dB at the end of the tick, ...). */
  readonly meter_dB?: number;
}

export interface StageDeclaration {
  readonly id: StageId;
  readonly name: string;
  /** One or two sentences for a mix engineer: what it does and when to leave it off. */
  readonly help: string;
  /** Published source of the method, or "own", in a line. */
  readonly source: string;
  readonly settings: readonly SettingDeclaration[];
  readonly figures: readonly FigureDeclaration[];
  readonly wish: WishDeclaration | null;
  /** True where the stage is linear and the same on each track of a role, so that single stems may be printed. */
  readonly linear: boolean;
  /** Fixed at a rate, whatever the settings. */
  latencySamples(sampleRate_Hz: number): number;
  create(context: StageContext): StageUnit;
}

/** A fresh instance of a stage: off, default settings, no figures. */
export function defaultInstance(declaration: StageDeclaration): StageInstance {
  const settings: Record<string, SettingValue> = {};
  for (const setting of declaration.settings) settings[setting.key] = setting.default;
  return { stage: declaration.id, on: false, settings, figures: {} };
}
