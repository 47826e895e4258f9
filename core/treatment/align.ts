import type { StateTape } from '../dsp/state-tape.js';
import { FractionalDelay } from '../dsp/fractional-delay.js';
import { DifferenceStage } from './difference-stage.js';
import { settingChoice, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';
import { TICK } from '../dsp/stereo-unit.js';

const MAX_SHIFT_MS = 30;

const delay: SettingDeclaration = {
  key: 'delay_ms',
  name: 'delay',
  unit: 'ms',
  kind: 'number',
  min: -MAX_SHIFT_MS,
  max: MAX_SHIFT_MS,
  scale: 'linear',
  default: 0,
  help: 'Moves the sound later; a negative delay moves it ahead. Under 2 ms between kick and bass as a rule.',
};

const polarity: SettingDeclaration = {
  key: 'polarity',
  name: 'polarity',
  unit: '',
  kind: 'choice',
  choices: ['normal', 'inverted'],
  default: 'normal',
  help: 'Inverts both channels. Usual where one of two tracks of a sound was recorded the other way round.',
};

class AlignUnit extends DifferenceStage {
  private readonly shift: FractionalDelay;
  private delay_ms = 0;
  private polarity = 'normal';

  constructor(private readonly sampleRate_Hz: number) {
    const shift = new FractionalDelay((MAX_SHIFT_MS / 1000) * sampleRate_Hz);
    super(shift.latencySamples);
    this.shift = shift;
  }

  protected takeSettings(instance: StageInstance, atOnce: boolean): void {
    this.delay_ms = settingNumber(instance, delay, this.delay_ms);
    this.polarity = settingChoice(instance, polarity, this.polarity);
    this.shift.setShift((this.delay_ms / 1000) * this.sampleRate_Hz, this.polarity === 'inverted' ? -1 : 1, atOnce);
  }

  protected run(left: Float64Array, right: Float64Array): void {
    this.shift.process(left, right, TICK);
  }

  protected clear(): void {
    this.shift.reset();
  }

  protected passWetState(tape: StateTape): void {
    this.shift.passState(tape);
  }

  protected flushWet(): void {
    this.shift.flush();
  }
}

export const align: StageDeclaration = {
  id: 'align',
  name: 'align',
  help: 'Moves a track in time by fractions of a sample and turns its polarity. Leave it off where the tracks already agree.',
  source: 'Laakso, Valimaki, Karjalainen, Laine, "Splitting the Unit Delay", 1996: windowed-sinc fractional delay',
  settings: [delay, polarity],
  figures: [],
  wish: {
    statistic: 'agreement.median_dB',
    name: 'agreement',
    unit: 'dB',
    source: 'file',
    default: '>= 0',
    help: 'What kick and bass gain by sounding together, against adding their powers.',
  },
  linear: true,
  latencySamples: (sampleRate_Hz) => Math.ceil((MAX_SHIFT_MS / 1000) * sampleRate_Hz) + 32,
  create: (context) => new AlignUnit(context.sampleRate_Hz),
};
