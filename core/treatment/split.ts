import type { StateTape } from '../dsp/state-tape.js';
import { DelayLine } from '../dsp/delay-line.js';
import { LinkwitzRiley } from '../dsp/linkwitz-riley.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { ZeroPhaseFilter } from '../dsp/zero-phase-filter.js';
import { lowPassSideLength, type SlopeDbPerOctave } from '../dsp/zero-phase-taps.js';
import { DifferenceStage } from './difference-stage.js';
import { settingChoice, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageDeclaration } from './stage.js';
import type { StageInstance } from './treatment.js';

const LOWEST_CORNER_HZ = 150;
const DEFAULT_CORNER_HZ = 300;

const corner: SettingDeclaration = {
  key: 'corner_Hz',
  name: 'corner',
  unit: 'Hz',
  kind: 'number',
  min: LOWEST_CORNER_HZ,
  max: 700,
  scale: 'log',
  default: DEFAULT_CORNER_HZ,
  help: 'Where the low lane ends and the high lane begins, -6 dB each. Usual: 300 Hz.',
};

const slope: SettingDeclaration = {
  key: 'slope_dBperOct',
  name: 'slope',
  unit: 'dB/oct',
  kind: 'choice',
  choices: ['12', '24', '48'],
  default: '24',
  help: 'Slope of a zero-phase split. Steeper than 24 buys nothing and rings. A recursive split is always 24.',
};

const phase: SettingDeclaration = {
  key: 'phase',
  name: 'phase',
  unit: '',
  kind: 'choice',
  choices: ['zero', 'recursive'],
  default: 'zero',
  help: 'Zero: the lanes sum to the sound itself. Recursive: nothing rings ahead, the bass is turned and the kick with it.',
};

/**
 * Makes two lanes of the sound. In place it leaves their sum: the delayed sound itself where the split is zero phase, the
 * all-passed sound where it is recursive. The lanes are in `low..` and `high..`, `latencySamples` late like the sum.
 */
export class SplitUnit extends DifferenceStage {
  readonly lowLeft = new Float64Array(TICK);
  readonly lowRight = new Float64Array(TICK);
  readonly highLeft = new Float64Array(TICK);
  readonly highRight = new Float64Array(TICK);
  private readonly low: ZeroPhaseFilter;
  private readonly recursive: LinkwitzRiley;
  private readonly recursiveDelay: DelayLine;
  private readonly recursiveShare = new SmoothValue(0);
  private readonly recursiveShares = new Float64Array(TICK);
  private corner_Hz = DEFAULT_CORNER_HZ;
  private slope = '24';
  private phase = 'zero';
  private need: 'none' | 'work' | 'always' = 'work';
  private readonly sumLeft = new Float64Array(TICK);
  private readonly sumRight = new Float64Array(TICK);

  constructor(sampleRate_Hz: number) {
    const sideLength = lowPassSideLength(LOWEST_CORNER_HZ, sampleRate_Hz);
    super(sideLength, Math.round(0.05 * sampleRate_Hz));
    this.low = new ZeroPhaseFilter(sampleRate_Hz, sideLength, 2);
    this.low.setLowPass(DEFAULT_CORNER_HZ, 24, true);
    this.recursive = new LinkwitzRiley(sampleRate_Hz, DEFAULT_CORNER_HZ);
    this.recursiveDelay = new DelayLine(sideLength);
  }

  /**
   * Says before `configure` whether the lanes are needed: a split without work for them is off, whatever its switch.
   * `always`: they are listened to, so that they are made even where the split is off.
   */
  setNeed(need: 'none' | 'work' | 'always'): void {
    this.need = need;
  }

  protected override isWanted(instance: StageInstance): boolean {
    return this.need === 'always' || (instance.on && this.need === 'work');
  }

  protected takeSettings(instance: StageInstance, atOnce: boolean): void {
    const corner_Hz = settingNumber(instance, corner, this.corner_Hz);
    const wantedSlope = settingChoice(instance, slope, this.slope);
    const changed = corner_Hz !== this.corner_Hz || wantedSlope !== this.slope;
    this.corner_Hz = corner_Hz;
    this.slope = wantedSlope;
    if (changed || atOnce) {
      this.low.setLowPass(corner_Hz, slopeOf(wantedSlope), atOnce);
      this.recursive.setCorner(corner_Hz, atOnce);
    }
    this.phase = settingChoice(instance, phase, this.phase);
    this.recursiveShare.set(this.phase === 'recursive' ? 1 : 0, atOnce);
  }

  protected run(left: Float64Array, right: Float64Array, dryLeft: Float64Array, dryRight: Float64Array): void {
    const { lowLeft, lowRight, highLeft, highRight, sumLeft, sumRight, recursive } = this;
    sumLeft.set(left);
    sumRight.set(right);
    this.recursiveDelay.process(sumLeft, sumRight, TICK);
    recursive.process(sumLeft, sumRight, TICK);
    lowLeft.set(left);
    lowRight.set(right);
    this.low.process(lowLeft, lowRight, TICK);
    this.recursiveShare.fill(this.recursiveShares, TICK);
    for (let n = 0; n < TICK; n++) {
      const share = this.recursiveShares[n]!;
      left[n] = dryLeft[n]! + share * (sumLeft[n]! - dryLeft[n]!);
      right[n] = dryRight[n]! + share * (sumRight[n]! - dryRight[n]!);
      lowLeft[n] = lowLeft[n]! + share * (recursive.lowLeft[n]! - lowLeft[n]!);
      lowRight[n] = lowRight[n]! + share * (recursive.lowRight[n]! - lowRight[n]!);
      highLeft[n] = left[n]! - lowLeft[n]!;
      highRight[n] = right[n]! - lowRight[n]!;
    }
  }

  protected clear(): void {
    this.low.reset();
    this.recursive.reset();
    this.recursiveDelay.reset();
    this.recursiveShare.reset();
  }

  protected passWetState(tape: StateTape): void {
    this.low.passState(tape);
    this.recursive.passState(tape);
    this.recursiveDelay.passState(tape);
  }

  protected flushWet(): void {
    this.recursive.flush();
  }
}

function slopeOf(choice: string): SlopeDbPerOctave {
  return choice === '12' ? 12 : choice === '48' ? 48 : 24;
}

/** @returns the corner of the all-pass that the split turns the bass by, or 0 where it turns nothing. */
export function turnCornerOf(instance: StageInstance): number {
  if (!instance.on || instance.settings[phase.key] !== 'recursive') return 0;
  return settingNumber(instance, corner, DEFAULT_CORNER_HZ);
}

export const split: StageDeclaration = {
  id: 'split',
  name: 'split',
  help: 'Makes a low and a high lane of the bass, so that each can be treated alone; untreated lanes sum to the bass as it was.',
  source: 'S. H. Linkwitz, JAES 24(1), 1976 (magnitude); zero phase: residues of that magnitude',
  settings: [corner, slope, phase],
  figures: [],
  wish: null,
  linear: true,
  latencySamples: (sampleRate_Hz) => lowPassSideLength(LOWEST_CORNER_HZ, sampleRate_Hz),
  create: (context) => new SplitUnit(context.sampleRate_Hz),
};
