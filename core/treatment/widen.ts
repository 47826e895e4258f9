import type { StateTape } from '../dsp/state-tape.js';
import { AllPassChain } from '../dsp/all-pass-chain.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { ZeroPhaseFilter } from '../dsp/zero-phase-filter.js';
import { lowPassSideLength } from '../dsp/zero-phase-taps.js';
import { dB_to_power } from '../units/decibels.js';
import { DifferenceStage } from './difference-stage.js';
import { figureNumber, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

const LOWEST_CORNER_HZ = 300;
const DEFAULT_CORNER_HZ = 700;
const DEFAULT_SIDE_TO_MID_DB = -9;

const sideToMid: SettingDeclaration = {
  key: 'sideToMid_dB',
  name: 'side to mid',
  unit: 'dB',
  kind: 'number',
  min: -30,
  max: -3,
  scale: 'linear',
  default: DEFAULT_SIDE_TO_MID_DB,
  help: 'Wished power of the side against the middle, above the corner. -9 dB is usual, -6 dB is wide.',
};

const corner: SettingDeclaration = {
  key: 'corner_Hz',
  name: 'corner',
  unit: 'Hz',
  kind: 'number',
  min: LOWEST_CORNER_HZ,
  max: 2000,
  scale: 'log',
  default: DEFAULT_CORNER_HZ,
  help: 'Below this nothing is made wide.',
};

/** @returns g with g^2 = wished side-to-mid power less what is there; 0 where there is enough. */
export function widenGain(wished_dB: number, before_dB: number): number {
  return Math.sqrt(Math.max(0, dB_to_power(wished_dB) - dB_to_power(before_dB)));
}

/** S becomes S + g D(HP M): D the chain of all-passes, HP zero phase; M is untouched, so that nothing changes in mono. */
class WidenUnit extends DifferenceStage {
  private readonly low: ZeroPhaseFilter;
  private readonly allPasses: AllPassChain;
  private readonly gain = new SmoothValue(0);
  private readonly gains = new Float64Array(TICK);
  private corner_Hz = 0;
  private sideToMid_dB = DEFAULT_SIDE_TO_MID_DB;
  private readonly mid = new Float64Array(TICK);

  constructor(sampleRate_Hz: number) {
    const sideLength = lowPassSideLength(LOWEST_CORNER_HZ, sampleRate_Hz);
    super(sideLength);
    this.low = new ZeroPhaseFilter(sampleRate_Hz, sideLength, 1);
    this.allPasses = new AllPassChain(sampleRate_Hz);
  }

  protected takeSettings(instance: StageInstance, atOnce: boolean): void {
    const corner_Hz = settingNumber(instance, corner, this.corner_Hz || DEFAULT_CORNER_HZ);
    if (corner_Hz !== this.corner_Hz || atOnce) this.low.setLowPass(corner_Hz, 24, atOnce);
    this.corner_Hz = corner_Hz;
    this.sideToMid_dB = settingNumber(instance, sideToMid, this.sideToMid_dB);
    this.gain.set(widenGain(this.sideToMid_dB, figureNumber(instance, 'sideToMidBefore_dB', -Infinity)), atOnce);
  }

  protected run(left: Float64Array, right: Float64Array, dryLeft: Float64Array, dryRight: Float64Array): void {
    const { mid } = this;
    for (let n = 0; n < TICK; n++) mid[n] = 0.5 * (left[n]! + right[n]!);
    this.low.processMono(mid);
    for (let n = 0; n < TICK; n++) mid[n] = 0.5 * (dryLeft[n]! + dryRight[n]!) - mid[n]!;
    this.allPasses.process(mid, TICK);
    this.gain.fill(this.gains, TICK);
    for (let n = 0; n < TICK; n++) {
      const added = this.gains[n]! * mid[n]!;
      left[n] = dryLeft[n]! + added;
      right[n] = dryRight[n]! - added;
    }
  }

  protected clear(): void {
    this.low.reset();
    this.allPasses.reset();
    this.gain.reset();
  }

  protected passWetState(tape: StateTape): void {
    this.low.passState(tape);
    this.allPasses.passState(tape);
  }

  protected flushWet(): void {
    this.allPasses.flush();
  }
}

export const widen: StageDeclaration = {
  id: 'widen',
  name: 'widen',
  help: 'Makes the upper bass wider and changes nothing in mono. Leave it off where the bass is wide already, or is to stay in the middle.',
  source:
    'M. R. Schroeder, "An Artificial Stereophonic Effect Obtained from a Single Audio Signal", JAES 6(2), 1958; sections: own',
  settings: [sideToMid, corner],
  figures: [
    {
      key: 'sideToMidBefore_dB',
      unit: 'dB',
      help: 'Power of the side against the middle that is there, above the corner.',
    },
  ],
  wish: {
    statistic: 'widen.sideToMid_dB',
    name: 'side to mid',
    unit: 'dB',
    source: 'lane',
    default: '-10..-8',
    help: 'Power of the side against the middle above the corner.',
  },
  linear: true,
  latencySamples: (sampleRate_Hz) => lowPassSideLength(LOWEST_CORNER_HZ, sampleRate_Hz),
  create: (context) => new WidenUnit(context.sampleRate_Hz),
};
