import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { DifferenceStage } from './difference-stage.js';
import { settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

const gain: SettingDeclaration = {
  key: 'gain_dB',
  name: 'gain',
  unit: 'dB',
  kind: 'number',
  min: -24,
  max: 24,
  scale: 'linear',
  default: 0,
  help: 'One gain on the whole sound.',
};

class TrimUnit extends DifferenceStage {
  private gain_dB = 0;
  private readonly extra = new SmoothValue(0); // the gain as a factor, less 1
  private readonly extras = new Float64Array(TICK);

  constructor() {
    super(0);
  }

  protected takeSettings(instance: StageInstance, atOnce: boolean): void {
    this.gain_dB = settingNumber(instance, gain, this.gain_dB);
    this.extra.set(this.gain_dB === 0 ? 0 : dB_to_amplitude(this.gain_dB) - 1, atOnce);
  }

  protected run(left: Float64Array, right: Float64Array): void {
    this.extra.fill(this.extras, TICK);
    for (let n = 0; n < TICK; n++) {
      left[n] = left[n]! + this.extras[n]! * left[n]!;
      right[n] = right[n]! + this.extras[n]! * right[n]!;
    }
  }

  protected clear(): void {
    this.extra.reset();
  }

  protected passWetState(): void {
    return;
  }

  protected flushWet(): void {
    return;
  }
}

export const trim: StageDeclaration = {
  id: 'trim',
  name: 'trim',
  help: 'Gives back what the stages before it took from the lows, or takes what they added. Not a match for listening.',
  source: 'own',
  settings: [gain],
  figures: [],
  wish: {
    statistic: 'trim.lowsChange_dB',
    name: 'lows held',
    unit: 'dB',
    source: 'engine',
    default: '-0.1..0.1',
    help: 'Energy of kick and bass, 30-150 Hz, at the output of trim, against the source.',
  },
  linear: true,
  latencySamples: () => 0,
  create: () => new TrimUnit(),
};
