import type { StateTape } from '../dsp/state-tape.js';
import { BiquadCascade } from '../dsp/biquad.js';
import { butterworthHighPass } from '../dsp/butterworth.js';
import { ChannelPair } from '../dsp/channel-pair.js';
import { DelayLine } from '../dsp/delay-line.js';
import { Oversampler, OVERSAMPLER_LATENCY } from '../dsp/oversampler.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { figureAt, figureNumber, settingChoice, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageContext, StageDeclaration, StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

const drive: SettingDeclaration = {
  key: 'drive_dB',
  name: 'drive',
  unit: 'dB',
  kind: 'number',
  min: 0,
  max: 18,
  scale: 'linear',
  default: 6,
  help: 'How hard the lane is pushed, against its own loud level: 6 dB is warm, 12 dB is plainly heard.',
};
const bias: SettingDeclaration = {
  key: 'bias',
  name: 'bias',
  unit: '',
  kind: 'number',
  min: 0,
  max: 0.3,
  scale: 'linear',
  default: 0,
  help: 'Adds even harmonics beside the odd ones; it follows the drive. 0.2 puts the second at about -17 dB at 6 dB of drive.',
};
const mix: SettingDeclaration = {
  key: 'mix_percent',
  name: 'mix',
  unit: '%',
  kind: 'number',
  min: 0,
  max: 100,
  scale: 'linear',
  default: 100,
  help: 'Share of the saturated sound. The dry part is in phase with it, so nothing is hollowed out.',
};
const oversampling: SettingDeclaration = {
  key: 'oversampling',
  name: 'oversampling',
  unit: '',
  kind: 'choice',
  choices: ['2x', '8x'],
  default: '8x',
  help: '8x keeps what folds back under -90 dBFS up to 18 dB of drive; in the low lane 2x does the same at a third of the work.',
};

const LATENCY = OVERSAMPLER_LATENCY[8];
/** Corner of the high-pass on the even part, which takes the wandering of the mean out; fourth order. */
const EVEN_CORNER_Hz = 45;
/** The high-pass has died away (e^-29) this many ticks after the bias has gone back to 0. */
const EVEN_TAIL_TICKS = 100;

/** u / sqrt(1 + u^2). */
function soft(u: number): number {
  return u / Math.sqrt(1 + u * u);
}

/** One channel: the difference between the saturated and the plain sound, made at the higher rate. */
class SaturateChannel {
  private readonly oversampler = new Oversampler();
  private readonly even = new Float64Array(8 * TICK);
  private readonly highPass: { readonly 2: BiquadCascade; readonly 8: BiquadCascade };

  constructor(sampleRate_Hz: number) {
    this.highPass = {
      2: new BiquadCascade(butterworthHighPass(4, EVEN_CORNER_Hz, 2 * sampleRate_Hz)),
      8: new BiquadCascade(butterworthHighPass(4, EVEN_CORNER_Hz, 8 * sampleRate_Hz)),
    };
  }

  /** In place: `samples` becomes weight * (outScale * F(inScale * x) - x), delayed by the oversampler. */
  process(
    samples: Float64Array,
    frameCount: number,
    factor: 2 | 8,
    inScale: Float64Array,
    outScale: Float64Array,
    biases: Float64Array,
    weights: Float64Array,
    withEven: boolean,
  ): void {
    const { oversampler, even } = this;
    const { high } = oversampler;
    oversampler.up(samples, frameCount, factor);
    if (withEven) this.makeEven(frameCount, factor, inScale, biases);
    let at = 0;
    for (let n = 0; n < frameCount; n++) {
      const into = inScale[n]!;
      const out = outScale[n]!;
      const b = biases[n]!;
      const weight = weights[n]!;
      for (let k = 0; k < factor; k++, at++) {
        const x = high[at]!;
        const u = into * x;
        const odd = withEven ? 0.5 * (soft(u + b) - soft(b - u)) + even[at]! : soft(u);
        high[at] = weight * (out * odd - x);
      }
    }
    oversampler.down(samples, frameCount, factor);
  }

  private makeEven(frameCount: number, factor: 2 | 8, inScale: Float64Array, biases: Float64Array): void {
    const { even } = this;
    const { high } = this.oversampler;
    let at = 0;
    for (let n = 0; n < frameCount; n++) {
      const into = inScale[n]!;
      const b = biases[n]!;
      const rest = soft(b);
      for (let k = 0; k < factor; k++, at++) {
        const u = into * high[at]!;
        even[at] = 0.5 * (soft(u + b) + soft(b - u)) - rest;
      }
    }
    this.highPass[factor].process(even, factor * frameCount);
  }

  reset(): void {
    this.oversampler.reset();
    this.highPass[2].reset();
    this.highPass[8].reset();
  }

  passState(tape: StateTape): void {
    this.oversampler.passState(tape);
    this.highPass[2].passState(tape);
    this.highPass[8].passState(tape);
  }

  flush(): void {
    this.highPass[2].flush();
    this.highPass[8].flush();
  }
}

class Saturate implements StageUnit {
  readonly latencySamples = LATENCY;
  // Parameters
  private wishedFactor: 2 | 8 = 8;
  private on = false;
  private readonly drive_dB = new SmoothValue(6);
  private readonly bias = new SmoothValue(0);
  private readonly reference_FS = new SmoothValue(0.25);
  private readonly makeUp_dB = new SmoothValue(0);
  /** Mix times on, 0..1; it goes to 0 and back where the oversampling changes. */
  private readonly weight = new SmoothValue(0);
  private mix = 1;
  // State
  private factor: 2 | 8 = 8;
  private evenTicks = 0;
  private drained = true;
  private readonly dry = new DelayLine(LATENCY);
  private readonly early = new DelayLine(LATENCY - OVERSAMPLER_LATENCY[2]);
  private readonly channels: ChannelPair<SaturateChannel>;
  // Work space
  private readonly left = new Float64Array(TICK);
  private readonly right = new Float64Array(TICK);
  private readonly inScale = new Float64Array(TICK);
  private readonly outScale = new Float64Array(TICK);
  private readonly biases = new Float64Array(TICK);
  private readonly weights = new Float64Array(TICK);
  private readonly drives_dB = new Float64Array(TICK);

  constructor(sampleRate_Hz: number) {
    this.channels = new ChannelPair(new SaturateChannel(sampleRate_Hz), new SaturateChannel(sampleRate_Hz));
  }

  configure(instance: StageInstance, atOnce: boolean): void {
    this.drive_dB.set(settingNumber(instance, drive, this.drive_dB.goal), atOnce);
    this.bias.set(settingNumber(instance, bias, this.bias.goal), atOnce);
    this.mix = settingNumber(instance, mix, this.mix * 100) / 100;
    const reference_FS = figureNumber(instance, 'reference_FS', 0.25);
    this.reference_FS.set(reference_FS > 1e-5 ? reference_FS : 1e-5, atOnce);
    this.makeUp_dB.set(makeUpAt(instance, this.drive_dB.goal), atOnce);
    this.wishedFactor = settingChoice(instance, oversampling, this.wishedFactor === 2 ? '2x' : '8x') === '2x' ? 2 : 8;
    this.on = instance.on;
    if (atOnce) this.factor = this.wishedFactor;
    if (atOnce || !this.drained) this.weight.set(this.wishedWeight(), atOnce);
  }

  private wishedWeight(): number {
    return this.on && this.factor === this.wishedFactor ? this.mix : 0;
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    // The first and the last tick awake have weight 0: the first fills the oversampler, the last empties it.
    const silent = this.weight.settled && this.weight.goal === 0;
    const asleep = silent && this.drained;
    if (asleep) this.rest();
    const { factor, inScale, outScale, biases, weights } = this;
    this.left.set(left);
    this.right.set(right);
    this.early.process(this.left, this.right, frameCount);
    if (factor === 8) {
      this.left.set(left);
      this.right.set(right);
    }
    this.dry.process(left, right, frameCount);
    if (asleep && this.wishedWeight() === 0) return;
    this.drained = silent && !asleep;
    this.fillScales(frameCount);
    const withEven = this.evenTicks > 0;
    const { channels } = this;
    const apart = channels.hear(this.left, this.right, frameCount);
    channels.left.process(this.left, frameCount, factor, inScale, outScale, biases, weights, withEven);
    if (apart) channels.right.process(this.right, frameCount, factor, inScale, outScale, biases, weights, withEven);
    else this.right.set(this.left);
    for (let n = 0; n < frameCount; n++) {
      left[n] = left[n]! + this.left[n]!;
      right[n] = right[n]! + this.right[n]!;
    }
    if (asleep) this.weight.set(this.wishedWeight(), false);
  }

  /** Off: nothing is computed; the parts start from rest when it is switched on again. */
  private rest(): void {
    this.channels.left.reset();
    this.channels.right.reset();
    this.channels.reset();
    this.drive_dB.reset();
    this.bias.reset();
    this.reference_FS.reset();
    this.makeUp_dB.reset();
    this.evenTicks = 0;
    this.factor = this.wishedFactor;
  }

  private fillScales(frameCount: number): void {
    const { drives_dB, inScale, outScale, biases, weights } = this;
    this.evenTicks = this.bias.settled && this.bias.goal === 0 ? Math.max(0, this.evenTicks - 1) : EVEN_TAIL_TICKS;
    this.drive_dB.fill(drives_dB, frameCount);
    this.reference_FS.fill(inScale, frameCount);
    this.makeUp_dB.fill(outScale, frameCount);
    this.bias.fill(biases, frameCount);
    this.weight.fill(weights, frameCount);
    let lastDrive_dB = NaN;
    let lastMakeUp_dB = NaN;
    let amplitude = 1;
    let makeUp = 1;
    for (let n = 0; n < frameCount; n++) {
      if (drives_dB[n] !== lastDrive_dB) amplitude = dB_to_amplitude(drives_dB[n]!);
      if (outScale[n] !== lastMakeUp_dB) makeUp = dB_to_amplitude(outScale[n]!);
      lastDrive_dB = drives_dB[n]!;
      lastMakeUp_dB = outScale[n]!;
      const reference_FS = inScale[n]!;
      inScale[n] = amplitude / reference_FS;
      outScale[n] = (makeUp * reference_FS) / amplitude;
      biases[n] = biases[n]! * amplitude;
    }
  }

  seek(): void {
    this.reset();
  }

  reset(): void {
    this.dry.reset();
    this.early.reset();
    this.rest();
    this.weight.set(this.wishedWeight(), true);
    this.drained = true;
  }

  passState(tape: StateTape): void {
    this.dry.passState(tape);
    this.early.passState(tape);
    this.channels.passState(tape);
    this.evenTicks = tape.value(this.evenTicks);
    this.drained = tape.flag(this.drained);
  }

  flush(): void {
    this.channels.left.flush();
    this.channels.right.flush();
  }
}

/**
 * The make-up at a drive: straight lines in dB between the measured entries of the table (`makeUpDrives_dB` ascending,
 * `makeUps_dB`), level beyond its ends; 0 where there is none.
 */
function makeUpAt(instance: StageInstance, drive_dB: number): number {
  let below_dB = figureAt(instance, 'makeUpDrives_dB', 0, NaN);
  let value_dB = figureAt(instance, 'makeUps_dB', 0, 0);
  if (!(drive_dB > below_dB)) return value_dB;
  for (let i = 1; ; i++) {
    const above_dB = figureAt(instance, 'makeUpDrives_dB', i, NaN);
    const next_dB = figureAt(instance, 'makeUps_dB', i, NaN);
    if (!(above_dB > below_dB) || next_dB !== next_dB) return value_dB;
    if (drive_dB <= above_dB) {
      return value_dB + ((drive_dB - below_dB) / (above_dB - below_dB)) * (next_dB - value_dB);
    }
    below_dB = above_dB;
    value_dB = next_dB;
  }
}

export const saturate: StageDeclaration = {
  id: 'saturate',
  name: 'saturate',
  help:
    'Rounds the wave off and adds harmonics of whatever plays, level-matched by measurement. In the low lane it carries a ' +
    'pure bass to small loudspeakers, more crudely than harmonics. Leave it off where the bass has its own grit.',
  source: 'own; curve u / sqrt(1 + u^2), half-band oversampling; measured for this project',
  settings: [drive, bias, mix, oversampling],
  figures: [
    { key: 'reference_FS', unit: 'FS', help: 'Peak of a sine as loud as the lane’s loud parts; drive counts from it.' },
    { key: 'makeUpDrives_dB', unit: 'dB', help: 'The drives at which the make-up was measured, ascending.' },
    { key: 'makeUps_dB', unit: 'dB', help: 'Make-up of the saturated part at those drives, measured over the song.' },
  ],
  wish: {
    statistic: 'saturate.thirdHarmonic_dB',
    name: 'added third harmonic',
    unit: 'dB',
    source: 'lane',
    default: '-20..-14',
    help: 'Level of the third harmonic that a note at the lane’s loud level gains, re its fundamental.',
  },
  linear: false,
  latencySamples: () => LATENCY,
  create: (context: StageContext) => new Saturate(context.sampleRate_Hz),
};
