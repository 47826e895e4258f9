import type { StateTape } from '../dsp/state-tape.js';
import { FadingBiquads } from '../dsp/fading-biquads.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { DifferenceStage } from './difference-stage.js';
import { settingChoice, figureNumber, settingNumber, settingSwitch } from './setting-reader.js';
import type { SettingDeclaration, StageDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

const removeDc: SettingDeclaration = {
  key: 'dc',
  name: 'remove DC',
  unit: '',
  kind: 'switch',
  default: true,
  help: 'Takes the mean of the file out of each channel.',
};

const lowCut: SettingDeclaration = {
  key: 'lowCut',
  name: 'low cut',
  unit: '',
  kind: 'switch',
  default: false,
  help: 'A low cut under the lowest note, where there is rumble.',
};

const corner: SettingDeclaration = {
  key: 'corner_Hz',
  name: 'corner',
  unit: 'Hz',
  kind: 'number',
  min: 5,
  max: 80,
  scale: 'log',
  default: 20,
  help: 'Corner of the low cut, -3 dB. Usual: 20 Hz, and no more than half the lowest note.',
};

const slope: SettingDeclaration = {
  key: 'slope_dBperOct',
  name: 'slope',
  unit: 'dB/oct',
  kind: 'choice',
  choices: ['12', '24'],
  default: '12',
  help: 'Slope of the low cut. 12 turns the phase of the lows less.',
};

const linked: SettingDeclaration = {
  key: 'linked',
  name: 'linked',
  unit: '',
  kind: 'switch',
  default: true,
  help: 'The same low cut on kick and bass, so that they keep their agreement.',
};

/** Butterworth section qualities 1 / (2 cos(pi (2k + 1) / 2N)) for N = 2 and N = 4. */
const SECOND_ORDER = [Math.SQRT1_2] as const;
const FOURTH_ORDER = [0.541196100146197, 1.3065629648763766] as const;

class CleanUnit extends DifferenceStage {
  private readonly meanLeft = new SmoothValue(0);
  private readonly meansLeft = new Float64Array(TICK);
  private readonly meanRight = new SmoothValue(0);
  private readonly meansRight = new Float64Array(TICK);
  private readonly cut: FadingBiquads;
  private removesDc = true;
  private cuts = false;
  private corner_Hz = 20;
  private slope = '12';
  private songSample = 0;

  constructor(sampleRate_Hz: number) {
    super(0, Math.round(0.2 * sampleRate_Hz)); // a 20 Hz cut has forgotten its start by then
    this.cut = new FadingBiquads(sampleRate_Hz, 2);
  }

  protected takeSettings(instance: StageInstance, atOnce: boolean): void {
    this.removesDc = settingSwitch(instance, removeDc, this.removesDc);
    this.meanLeft.set(this.removesDc ? figureNumber(instance, 'meanLeft_FS', 0) : 0, atOnce);
    this.meanRight.set(this.removesDc ? figureNumber(instance, 'meanRight_FS', 0) : 0, atOnce);
    const cuts = settingSwitch(instance, lowCut, this.cuts);
    const corner_Hz = settingNumber(instance, corner, this.corner_Hz);
    const wantedSlope = settingChoice(instance, slope, this.slope);
    const same = cuts === this.cuts && corner_Hz === this.corner_Hz && wantedSlope === this.slope;
    this.cuts = cuts;
    this.corner_Hz = corner_Hz;
    this.slope = wantedSlope;
    if (!same || atOnce) this.setCut(atOnce);
  }

  protected run(left: Float64Array, right: Float64Array): void {
    this.meanLeft.fill(this.meansLeft, TICK);
    this.meanRight.fill(this.meansRight, TICK);
    const from = Math.max(0, Math.min(TICK, -this.songSample)); // before the song begins there is nothing to take out
    for (let n = from; n < TICK; n++) {
      left[n] = left[n]! - this.meansLeft[n]!;
      right[n] = right[n]! - this.meansRight[n]!;
    }
    this.songSample += TICK;
    this.cut.process(left, right, TICK);
  }

  protected override moveTo(songSample: number): void {
    this.songSample = songSample;
  }

  protected clear(): void {
    this.meanLeft.reset();
    this.meanRight.reset();
    this.cut.reset();
  }

  protected passWetState(tape: StateTape): void {
    this.cut.passState(tape);
    this.songSample = tape.value(this.songSample);
  }

  protected flushWet(): void {
    this.cut.flush();
  }

  private setCut(atOnce: boolean): void {
    const { spare } = this.cut;
    spare.setThrough(0);
    spare.setThrough(1);
    if (this.cuts && this.slope === '12') spare.setHighPass(0, this.corner_Hz, SECOND_ORDER[0]);
    if (this.cuts && this.slope === '24') {
      spare.setHighPass(0, this.corner_Hz, FOURTH_ORDER[0]);
      spare.setHighPass(1, this.corner_Hz, FOURTH_ORDER[1]);
    }
    this.cut.commit(atOnce);
  }
}

export const clean: StageDeclaration = {
  id: 'clean',
  name: 'clean',
  help: 'Takes out DC and, where there is rumble, what lies under the lowest note. Leave it off where there is neither.',
  source: 'S. Butterworth, "On the Theory of Filter Amplifiers", 1930; sections of the RBJ Audio EQ Cookbook',
  settings: [removeDc, lowCut, corner, slope, linked],
  figures: [
    { key: 'meanLeft_FS', unit: 'FS', help: 'Mean of the left channel over the file.' },
    { key: 'meanRight_FS', unit: 'FS', help: 'Mean of the right channel over the file.' },
  ],
  wish: {
    statistic: 'clean.below20Hz_dB',
    name: 'energy under the corner',
    unit: 'dB',
    source: 'file',
    default: '<= -12',
    help: 'Energy of 5-20 Hz against the same file before.',
  },
  linear: true,
  latencySamples: () => 0,
  create: (context) => new CleanUnit(context.sampleRate_Hz),
};
