import type { StateTape } from '../dsp/state-tape.js';
import { LevelRider } from '../dsp/level-rider.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { figureNumber, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageContext, StageDeclaration, StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

const threshold: SettingDeclaration = {
  key: 'threshold_dBFS',
  name: 'threshold',
  unit: 'dBFS',
  kind: 'number',
  min: -60,
  max: 0,
  scale: 'linear',
  default: -20,
  help: 'Level above which the gain is held back; a full-scale sine reads 0. It is found from the reduction you ask for.',
};
const ratio: SettingDeclaration = {
  key: 'ratio',
  name: 'ratio',
  unit: '',
  kind: 'number',
  min: 1,
  max: 10,
  scale: 'log',
  default: 3,
  help: 'dB in per dB out above the threshold. 3 is usual for a bass; 2 to 4 sound much alike here.',
};
const knee: SettingDeclaration = {
  key: 'knee_dB',
  name: 'knee',
  unit: 'dB',
  kind: 'number',
  min: 0,
  max: 18,
  scale: 'linear',
  default: 6,
  help: 'Width of the bend about the threshold. 6 dB is gentle.',
};
const attack: SettingDeclaration = {
  key: 'attack_ms',
  name: 'attack',
  unit: 'ms',
  kind: 'number',
  min: 5,
  max: 100,
  scale: 'log',
  default: 30,
  help: 'Time to 63 % of the reduction. Under 15 ms the gain begins to follow the wave of a low note.',
};
const release: SettingDeclaration = {
  key: 'release_ms',
  name: 'release',
  unit: 'ms',
  kind: 'number',
  min: 40,
  max: 500,
  scale: 'log',
  default: 120,
  help: 'Time to 63 % of the first part of the release; after a long loud passage the rest lets go more slowly.',
};

export const STEADY_DETECTOR_ms = 50;
export const STEADY_MEMORY_SHARE = 0.35;

class Steady implements StageUnit {
  readonly latencySamples = 0;
  // Parameters
  private threshold_dBFS = -20;
  private ratio = 3;
  private knee_dB = 6;
  private attack_ms = 30;
  private release_ms = 120;
  private readonly work = new SmoothValue(0);
  private readonly makeUp_dB = new SmoothValue(0);
  private readonly rider: LevelRider;
  // State
  private lastReduction_dB = 0;
  // Work space
  private readonly reductions_dB = new Float64Array(TICK);
  private readonly shares = new Float64Array(TICK);
  private readonly makeUps_dB = new Float64Array(TICK);

  constructor(sampleRate_Hz: number) {
    this.rider = new LevelRider(sampleRate_Hz, STEADY_DETECTOR_ms, STEADY_MEMORY_SHARE);
    this.takeRiderSettings();
  }

  configure(instance: StageInstance, atOnce: boolean): void {
    this.threshold_dBFS = settingNumber(instance, threshold, this.threshold_dBFS);
    this.ratio = settingNumber(instance, ratio, this.ratio);
    this.knee_dB = settingNumber(instance, knee, this.knee_dB);
    this.attack_ms = settingNumber(instance, attack, this.attack_ms);
    this.release_ms = settingNumber(instance, release, this.release_ms);
    this.takeRiderSettings();
    this.work.set(instance.on ? 1 : 0, atOnce);
    this.makeUp_dB.set(figureNumber(instance, 'makeUp_dB', 0), atOnce);
  }

  /** A new curve is heard through attack and release, so it needs no ramp of its own. */
  private takeRiderSettings(): void {
    this.rider.configure(this.threshold_dBFS, this.ratio, this.knee_dB, this.attack_ms, this.release_ms);
  }

  get meter_dB(): number {
    return this.lastReduction_dB;
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    const { reductions_dB, shares, makeUps_dB } = this;
    this.rider.process(left, right, frameCount, reductions_dB);
    this.work.fill(shares, frameCount);
    this.makeUp_dB.fill(makeUps_dB, frameCount);
    this.lastReduction_dB = shares[frameCount - 1]! * reductions_dB[frameCount - 1]!;
    for (let i = 0; i < frameCount; i++) {
      const level_dB = shares[i]! * (makeUps_dB[i]! - reductions_dB[i]!);
      if (level_dB === 0) continue;
      const gain = dB_to_amplitude(level_dB);
      left[i] = left[i]! * gain;
      right[i] = right[i]! * gain;
    }
  }

  seek(): void {
    this.reset();
  }

  reset(): void {
    this.rider.reset();
    this.work.reset();
    this.makeUp_dB.reset();
    this.lastReduction_dB = 0;
  }

  passState(tape: StateTape): void {
    this.rider.passState(tape);
    this.lastReduction_dB = tape.value(this.lastReduction_dB);
  }

  flush(): void {
    this.rider.flush();
  }
}

export const steady: StageDeclaration = {
  id: 'steady',
  name: 'steady',
  help:
    'Slow levelling of the low lane, one gain for both sides; it reads whole periods, so the gain does not follow the wave. ' +
    'Leave it off where the low lane already lies within 2 dB: there it would only be gain.',
  source: 'Giannoulis, Massberg and Reiss, JAES 60(6), 2012 (curve, topology); release with memory: own',
  settings: [threshold, ratio, knee, attack, release],
  figures: [{ key: 'makeUp_dB', unit: 'dB', help: 'Energy of the lane before over after, measured over the song.' }],
  wish: {
    statistic: 'steady.loudNoteReduction_dB',
    name: 'reduction on loud notes',
    unit: 'dB',
    source: 'engine',
    default: '3..5',
    help: 'Reduction that the loudest tenth of the notes reach, 50 to 250 ms into the note. 3 to 5 dB is common practice.',
  },
  linear: false,
  latencySamples: () => 0,
  create: (context: StageContext) => new Steady(context.sampleRate_Hz),
};
