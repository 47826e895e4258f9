import type { StateTape } from '../dsp/state-tape.js';
import { FadingBiquads } from '../dsp/fading-biquads.js';
import { DelayLine } from '../dsp/delay-line.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { ZeroPhaseFilter } from '../dsp/zero-phase-filter.js';
import { lowPassSideLength } from '../dsp/zero-phase-taps.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { clamp } from '../units/units.js';
import { DifferenceStage } from './difference-stage.js';
import { settingChoice, figureNumber, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

const LOWEST_CORNER_HZ = 60;
const MOST_MAKE_UP_DB = 3;

const corner: SettingDeclaration = {
  key: 'corner_Hz',
  name: 'corner',
  unit: 'Hz',
  kind: 'number',
  min: LOWEST_CORNER_HZ,
  max: 250,
  scale: 'log',
  default: 120,
  help: 'Below this the side signal is taken out. Usual: 120 Hz.',
};

const amount: SettingDeclaration = {
  key: 'amount_percent',
  name: 'amount',
  unit: '%',
  kind: 'number',
  min: 0,
  max: 100,
  scale: 'linear',
  default: 100,
  help: 'How much of the side signal is taken out; 100 % makes the lows mono.',
};

const turn: SettingDeclaration = {
  key: 'turn',
  name: 'turn first',
  unit: '',
  kind: 'choice',
  choices: ['none', 'left', 'right'],
  default: 'none',
  help: 'Where left and right work against each other: this side is turned first, so that the bass is not lost.',
};

const turnCorner: SettingDeclaration = {
  key: 'turnCorner_Hz',
  name: 'turn corner',
  unit: 'Hz',
  kind: 'number',
  min: 80,
  max: 1000,
  scale: 'log',
  default: 250,
  help: 'Where the turn has fallen from 180 to 90 degrees: the lowest third octave in which the sides agree again.',
};

/**
 * M = (L + R)/2 stays, S = (L - R)/2 becomes S - amount LP S, with LP zero phase, 24 dB/oct; then the lows of M are raised by
 * the make-up. A side that works against the other is first turned by a first-order all-pass.
 */
class CentreUnit extends DifferenceStage {
  private readonly low: ZeroPhaseFilter;
  private readonly turned: FadingBiquads;
  private readonly turnedDelay: DelayLine;
  private readonly amount = new SmoothValue(1);
  private readonly amounts = new Float64Array(TICK);
  private readonly extra = new SmoothValue(0); // make-up as a factor, less 1
  private readonly extras = new Float64Array(TICK);
  private readonly turnLeft = new SmoothValue(0);
  private readonly turnsLeft = new Float64Array(TICK);
  private readonly turnRight = new SmoothValue(0);
  private readonly turnsRight = new Float64Array(TICK);
  private corner_Hz = 0;
  private turnCorner_Hz = 0;
  private turn = 'none';
  private readonly turnedLeft = new Float64Array(TICK);
  private readonly turnedRight = new Float64Array(TICK);
  private readonly mid = new Float64Array(TICK);
  private readonly side = new Float64Array(TICK);

  constructor(sampleRate_Hz: number) {
    const sideLength = lowPassSideLength(LOWEST_CORNER_HZ, sampleRate_Hz);
    super(sideLength);
    this.low = new ZeroPhaseFilter(sampleRate_Hz, sideLength, 2);
    this.turned = new FadingBiquads(sampleRate_Hz, 1);
    this.turnedDelay = new DelayLine(sideLength);
  }

  protected takeSettings(instance: StageInstance, atOnce: boolean): void {
    const corner_Hz = settingNumber(instance, corner, this.corner_Hz || 120);
    if (corner_Hz !== this.corner_Hz || atOnce) this.low.setLowPass(corner_Hz, 24, atOnce);
    this.corner_Hz = corner_Hz;
    this.amount.set(settingNumber(instance, amount, 100 * this.amount.goal) / 100, atOnce);
    const makeUp_dB = clamp(figureNumber(instance, 'makeUp_dB', 0), 0, MOST_MAKE_UP_DB);
    this.extra.set(makeUp_dB === 0 ? 0 : dB_to_amplitude(makeUp_dB) - 1, atOnce);
    this.turn = settingChoice(instance, turn, this.turn);
    this.turnLeft.set(this.turn === 'left' ? 1 : 0, atOnce);
    this.turnRight.set(this.turn === 'right' ? 1 : 0, atOnce);
    const turnCorner_Hz = settingNumber(instance, turnCorner, this.turnCorner_Hz || 250);
    if (turnCorner_Hz !== this.turnCorner_Hz || atOnce) {
      this.turned.spare.setFirstOrderTurn(0, turnCorner_Hz);
      this.turned.commit(atOnce);
    }
    this.turnCorner_Hz = turnCorner_Hz;
  }

  protected run(left: Float64Array, right: Float64Array): void {
    this.turnOneSide(left, right);
    const { mid, side } = this;
    for (let n = 0; n < TICK; n++) {
      mid[n] = 0.5 * (left[n]! + right[n]!);
      side[n] = 0.5 * (left[n]! - right[n]!);
    }
    this.low.process(mid, side, TICK);
    this.turnedDelay.process(left, right, TICK);
    this.amount.fill(this.amounts, TICK);
    this.extra.fill(this.extras, TICK);
    for (let n = 0; n < TICK; n++) {
      const raised = this.extras[n]! * mid[n]!;
      const taken = this.amounts[n]! * side[n]!;
      left[n] = left[n]! + (raised - taken);
      right[n] = right[n]! + (raised + taken);
    }
  }

  protected clear(): void {
    this.low.reset();
    this.turned.reset();
    this.turnedDelay.reset();
    this.amount.reset();
    this.extra.reset();
    this.turnLeft.reset();
    this.turnRight.reset();
  }

  protected passWetState(tape: StateTape): void {
    this.low.passState(tape);
    this.turned.passState(tape);
    this.turnedDelay.passState(tape);
  }

  protected flushWet(): void {
    this.turned.flush();
  }

  private turnOneSide(left: Float64Array, right: Float64Array): void {
    const { turnedLeft, turnedRight } = this;
    turnedLeft.set(left);
    turnedRight.set(right);
    this.turned.process(turnedLeft, turnedRight, TICK);
    this.turnLeft.fill(this.turnsLeft, TICK);
    this.turnRight.fill(this.turnsRight, TICK);
    for (let n = 0; n < TICK; n++) {
      left[n] = left[n]! + this.turnsLeft[n]! * (turnedLeft[n]! - left[n]!);
      right[n] = right[n]! + this.turnsRight[n]! * (turnedRight[n]! - right[n]!);
    }
  }
}

export const centre: StageDeclaration = {
  id: 'centre',
  name: 'centre',
  help: 'Takes the side signal out of the lows, so that they survive in mono. Leave it off where the fold-down costs under 1 dB.',
  source: 'own; all-pass of P. A. Regalia, S. K. Mitra, P. P. Vaidyanathan, Proc. IEEE 76(1), 1988',
  settings: [corner, amount, turn, turnCorner],
  figures: [
    { key: 'makeUp_dB', unit: 'dB', help: 'Raises the lows of the middle to the power they had, at most 3 dB.' },
  ],
  wish: {
    statistic: 'centre.foldDownLoss_dB',
    name: 'fold-down loss',
    unit: 'dB',
    source: 'file',
    default: '<= 1',
    help: 'What the lows lose when the song is played in mono.',
  },
  linear: true,
  latencySamples: (sampleRate_Hz) => lowPassSideLength(LOWEST_CORNER_HZ, sampleRate_Hz),
  create: (context) => new CentreUnit(context.sampleRate_Hz),
};
