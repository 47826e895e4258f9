import type { StateTape } from '../dsp/state-tape.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { GainCurve } from '../dsp/gain-curve.js';
import { LevelRider } from '../dsp/level-rider.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import type { Note } from '../song/song.js';
import { figureNumber, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageContext, StageDeclaration, StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

const number = (
  key: string,
  name: string,
  unit: string,
  min: number,
  max: number,
  initial: number,
  help: string,
): SettingDeclaration => ({ key, name, unit, kind: 'number', min, max, scale: 'linear', default: initial, help });

const gain = number(
  'gain_dB',
  'gain',
  'dB',
  -12,
  12,
  3,
  'How much the first milliseconds of each note are lifted. 2 to 4 dB brings out the pluck; below 0 softens it.',
);
const hold = number('hold_ms', 'hold', 'ms', 5, 60, 20, 'How long the onset stays lifted. 20 ms covers the attack.');
const back = number('return_ms', 'return', 'ms', 20, 120, 30, 'Time in which the gain falls back to the sustain.');
const threshold = number(
  'threshold_dBFS',
  'threshold',
  'dBFS',
  -60,
  0,
  -24,
  'Without a note list only: level above which the compressor works. A full-scale sine reads 0.',
);
const attack = number(
  'attack_ms',
  'attack',
  'ms',
  10,
  60,
  20,
  'Without a note list only: how long the onset passes before the compressor takes hold.',
);
const release = number(
  'release_ms',
  'release',
  'ms',
  20,
  300,
  80,
  'Without a note list only: how soon the compressor lets go. Keep it well under the gap between notes.',
);

/** The gain is up when the note begins: it rises over this long before the onset. */
const RISE_ms = 10;
const FALLBACK_RATIO = 3;
const FALLBACK_KNEE_dB = 6;
const FALLBACK_DETECTOR_ms = 5;

class Onset implements StageUnit {
  readonly latencySamples = 0;
  // Parameters
  private gain_dB = 3;
  private hold_ms = 20;
  private return_ms = 30;
  private threshold_dBFS = -24;
  private attack_ms = 20;
  private release_ms = 80;
  private readonly curve: GainCurve;
  private readonly rider: LevelRider;
  private readonly work = new SmoothValue(0);
  private readonly makeUp_dB = new SmoothValue(0);
  // State
  private position = 0;
  // Work space
  private readonly gains = new Float64Array(TICK);
  private readonly shares = new Float64Array(TICK);
  private readonly makeUps_dB = new Float64Array(TICK);

  constructor(
    private readonly notes: readonly Note[],
    private readonly sampleRate_Hz: number,
  ) {
    this.curve = new GainCurve(2 * notes.length);
    this.rider = new LevelRider(sampleRate_Hz, FALLBACK_DETECTOR_ms, 0);
  }

  configure(instance: StageInstance, atOnce: boolean): void {
    this.gain_dB = settingNumber(instance, gain, this.gain_dB);
    this.hold_ms = settingNumber(instance, hold, this.hold_ms);
    this.return_ms = settingNumber(instance, back, this.return_ms);
    this.threshold_dBFS = settingNumber(instance, threshold, this.threshold_dBFS);
    this.attack_ms = settingNumber(instance, attack, this.attack_ms);
    this.release_ms = settingNumber(instance, release, this.release_ms);
    this.compile(instance.on);
    this.curve.commit(atOnce);
    this.rider.configure(this.threshold_dBFS, FALLBACK_RATIO, FALLBACK_KNEE_dB, this.attack_ms, this.release_ms);
    this.work.set(instance.on && this.notes.length === 0 ? 1 : 0, atOnce);
    this.makeUp_dB.set(figureNumber(instance, 'makeUp_dB', 0), atOnce);
  }

  private compile(on: boolean): void {
    const { curve, notes, sampleRate_Hz } = this;
    const samples = sampleRate_Hz / 1000;
    curve.begin(0);
    if (!on) return;
    for (let i = 0; i < notes.length; i++) {
      const start = notes[i]!.start_s * sampleRate_Hz;
      const fall = start + this.hold_ms * samples;
      const next = i + 1 < notes.length ? notes[i + 1]!.start_s * sampleRate_Hz - RISE_ms * samples : Infinity;
      curve.move(start - RISE_ms * samples, RISE_ms * samples, this.gain_dB);
      // A note that begins before this onset has let go keeps the gain up.
      if (next > fall) curve.move(fall, this.return_ms * samples, 0);
    }
  }

  get meter_dB(): number {
    return this.curve.level_dB(this.position - 1);
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    if (this.notes.length === 0) {
      this.compress(left, right, frameCount);
    } else if (!this.curve.idle) {
      this.curve.fill(this.position, this.gains, frameCount);
      this.apply(left, right, frameCount);
    }
    this.position += frameCount;
  }

  /** The fall-back without a note list: lets the onset through and lowers what follows, made up by the measured figure. */
  private compress(left: Float64Array, right: Float64Array, frameCount: number): void {
    const { gains, shares, makeUps_dB } = this;
    this.rider.process(left, right, frameCount, gains);
    this.work.fill(shares, frameCount);
    this.makeUp_dB.fill(makeUps_dB, frameCount);
    for (let i = 0; i < frameCount; i++) {
      const level_dB = shares[i]! * (makeUps_dB[i]! - gains[i]!);
      gains[i] = level_dB === 0 ? 1 : dB_to_amplitude(level_dB);
    }
    this.apply(left, right, frameCount);
  }

  private apply(left: Float64Array, right: Float64Array, frameCount: number): void {
    const { gains } = this;
    for (let i = 0; i < frameCount; i++) {
      const factor = gains[i]!;
      if (factor === 1) continue;
      left[i] = left[i]! * factor;
      right[i] = right[i]! * factor;
    }
  }

  seek(songSample: number): void {
    this.reset();
    this.position = songSample;
  }

  reset(): void {
    this.curve.reset();
    this.rider.reset();
    this.work.reset();
    this.makeUp_dB.reset();
    this.position = 0;
  }

  passState(tape: StateTape): void {
    this.rider.passState(tape);
    this.position = tape.value(this.position);
  }

  flush(): void {
    this.rider.flush();
  }
}

export const onset: StageDeclaration = {
  id: 'onset',
  name: 'onset',
  help:
    'Lifts the first milliseconds of each note in the high lane, from the note list, so that the line speaks on small ' +
    'loudspeakers; where there is no list a slow compressor stands in. Leave it off where the pluck is already sharp.',
  source: 'own; static curve of the fall-back after Giannoulis, Massberg and Reiss, JAES 60(6), 2012',
  settings: [gain, hold, back, threshold, attack, release],
  figures: [
    { key: 'makeUp_dB', unit: 'dB', help: 'Energy of the lane before over after, where the compressor stands in.' },
  ],
  wish: {
    statistic: 'onset.overSustain_dB',
    name: 'onset over sustain',
    unit: 'dB',
    source: 'lane',
    default: '>= 3',
    help: 'Level of the first 20 ms of a note over that of 60 to 160 ms, median over the notes.',
  },
  linear: false,
  latencySamples: () => 0,
  create: (context: StageContext) => new Onset(context.notes, context.sampleRate_Hz),
};
