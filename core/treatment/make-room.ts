import type { StateTape } from '../dsp/state-tape.js';
import { DelayLine } from '../dsp/delay-line.js';
import { GainCurve } from '../dsp/gain-curve.js';
import { LevelRider } from '../dsp/level-rider.js';
import { SmoothValue } from '../dsp/smooth-value.js';
import { TICK } from '../dsp/stereo-unit.js';
import { ZeroPhaseFilter } from '../dsp/zero-phase-filter.js';
import { bandSideLength } from '../dsp/zero-phase-taps.js';
import type { Hit } from '../song/song.js';
import { amplitude_to_dB, dB_to_amplitude } from '../units/decibels.js';
import { figureAt, settingChoice, settingNumber } from './setting-reader.js';
import type { SettingDeclaration, StageContext, StageDeclaration, StageUnit } from './stage.js';
import type { StageInstance } from './treatment.js';

const way: SettingDeclaration = {
  key: 'way',
  name: 'way',
  unit: '',
  kind: 'choice',
  choices: ['ahead', 'keyed', 'static'],
  default: 'ahead',
  help: 'Ahead of each known hit by what that hit needs (usual); keyed by the kick where there is no hit list; static last.',
};
const frequency: SettingDeclaration = {
  key: 'frequency_Hz',
  name: 'frequency',
  unit: 'Hz',
  kind: 'number',
  min: 30,
  max: 250,
  scale: 'log',
  default: 55,
  help: 'Middle of the band that is lowered: the contested band, where kick and bass overlap most.',
};
const width: SettingDeclaration = {
  key: 'width_oct',
  name: 'width',
  unit: 'oct',
  kind: 'number',
  min: 0.5,
  max: 3,
  scale: 'linear',
  default: 1,
  help: 'Width between the half-power points. 1 octave is usual; very low bands are held a little wider than 0.5.',
};
const cut: SettingDeclaration = {
  key: 'cut_dB',
  name: 'cut',
  unit: 'dB',
  kind: 'number',
  min: 0,
  max: 9,
  scale: 'linear',
  default: 6,
  help: 'The most that any hit may take (ahead), or the cut itself (keyed, static). 2 to 4 dB is common; over 6 dB the bass is too loud.',
};
const ahead: SettingDeclaration = {
  key: 'ahead_ms',
  name: 'ahead',
  unit: 'ms',
  kind: 'number',
  min: 8,
  max: 40,
  scale: 'linear',
  default: 12,
  help: 'The cut opens over this long and is fully there when the hit comes. Shorter openings click.',
};
const hold: SettingDeclaration = {
  key: 'hold_ms',
  name: 'hold',
  unit: 'ms',
  kind: 'number',
  min: 40,
  max: 300,
  scale: 'linear',
  default: 110,
  help: 'How long the band stays down. 110 ms covers the body of most kicks.',
};
const back: SettingDeclaration = {
  key: 'return_ms',
  name: 'return',
  unit: 'ms',
  kind: 'number',
  min: 30,
  max: 400,
  scale: 'log',
  default: 100,
  help: 'Time in which the band comes back; keyed it is the release to 63 %. Longer clears nothing more and costs bass.',
};
const keyThreshold: SettingDeclaration = {
  key: 'keyThreshold_dBFS',
  name: 'key threshold',
  unit: 'dBFS',
  kind: 'number',
  min: -60,
  max: 0,
  scale: 'linear',
  default: -24,
  help: 'Keyed only: level of the kick above which the band goes down; a full-scale sine reads 0.',
};

const LOWEST_Hz = 30;
const KEY_DETECTOR_ms = 10;
const KEY_ATTACK_ms = 5;
const KEY_KNEE_dB = 6;
const KEY_RATIO = 20;

/** Half the length of the longest band filter: 1 octave at the lowest frequency, 138 ms. */
function sideLength(sampleRate_Hz: number): number {
  return bandSideLength(LOWEST_Hz, 1, sampleRate_Hz);
}

/**
 * y = x + (g(t) - 1) B(x): B a zero-phase band of gain 1 at its middle, g the gain of the moment, one for both channels.
 */
class MakeRoom implements StageUnit {
  readonly latencySamples: number;
  readonly key = { left: new Float64Array(TICK), right: new Float64Array(TICK) };
  // Parameters
  private way = 'ahead';
  private frequency_Hz = NaN;
  private width_oct = NaN;
  private cut_dB = 6;
  private ahead_ms = 12;
  private hold_ms = 110;
  private return_ms = 100;
  private keyThreshold_dBFS = -24;
  private readonly curve: GainCurve;
  private readonly band: ZeroPhaseFilter;
  private readonly rider: LevelRider;
  private readonly keyed = new SmoothValue(0);
  // State
  private readonly dry: DelayLine;
  private readonly keyDelay: DelayLine;
  private position = 0;
  private stale = false;
  private lastCut_dB = 0;
  // Work space
  private readonly bandLeft = new Float64Array(TICK);
  private readonly bandRight = new Float64Array(TICK);
  private readonly gains = new Float64Array(TICK);
  private readonly keyCuts_dB = new Float64Array(TICK);
  private readonly unused = new Float64Array(TICK);
  private readonly shares = new Float64Array(TICK);

  constructor(
    private readonly hits: readonly Hit[],
    private readonly sampleRate_Hz: number,
  ) {
    this.latencySamples = sideLength(sampleRate_Hz);
    this.curve = new GainCurve(2 * hits.length);
    this.band = new ZeroPhaseFilter(sampleRate_Hz, this.latencySamples, 2);
    this.rider = new LevelRider(sampleRate_Hz, KEY_DETECTOR_ms, 0);
    this.dry = new DelayLine(this.latencySamples);
    this.keyDelay = new DelayLine(this.latencySamples);
    this.takeBand(55, 1, true);
    this.takeKeySettings();
  }

  configure(instance: StageInstance, atOnce: boolean): void {
    this.way = settingChoice(instance, way, this.way);
    this.cut_dB = settingNumber(instance, cut, this.cut_dB);
    this.ahead_ms = settingNumber(instance, ahead, this.ahead_ms);
    this.hold_ms = settingNumber(instance, hold, this.hold_ms);
    this.return_ms = settingNumber(instance, back, this.return_ms);
    this.keyThreshold_dBFS = settingNumber(instance, keyThreshold, this.keyThreshold_dBFS);
    const frequency_Hz = settingNumber(instance, frequency, this.frequency_Hz);
    const width_oct = settingNumber(instance, width, this.width_oct);
    if (frequency_Hz !== this.frequency_Hz || width_oct !== this.width_oct) {
      this.takeBand(frequency_Hz, width_oct, atOnce);
    }
    this.takeKeySettings();
    this.keyed.set(instance.on && this.way === 'keyed' ? 1 : 0, atOnce);
    this.compile(instance);
    this.curve.commit(atOnce);
  }

  private takeBand(frequency_Hz: number, width_oct: number, atOnce: boolean): void {
    this.frequency_Hz = frequency_Hz;
    this.width_oct = width_oct;
    // A band that would need more time than the fixed latency has is taken wider until it fits.
    let fitting_oct = width_oct;
    while (bandSideLength(frequency_Hz, fitting_oct, this.sampleRate_Hz) > this.latencySamples) fitting_oct += 0.01;
    this.band.setBand(frequency_Hz, fitting_oct, atOnce);
  }

  private takeKeySettings(): void {
    this.rider.configure(this.keyThreshold_dBFS, KEY_RATIO, KEY_KNEE_dB, KEY_ATTACK_ms, this.return_ms, this.cut_dB);
  }

  private compile(instance: StageInstance): void {
    const { curve } = this;
    curve.begin(instance.on && this.way === 'static' ? -this.cut_dB : 0);
    if (!instance.on || this.way !== 'ahead') return;
    const samples = this.sampleRate_Hz / 1000;
    const rise = this.ahead_ms * samples;
    let current_dB = 0;
    let holdEnd = -Infinity;
    let pending = false;
    for (let i = 0; i < this.hits.length; i++) {
      const wished_dB = figureAt(instance, 'cutPerHit_dB', i, 0);
      const cut_dB = wished_dB < this.cut_dB ? wished_dB : this.cut_dB;
      if (!(cut_dB > 0)) continue;
      const hit = this.hits[i]!.time_s * this.sampleRate_Hz;
      let start = hit - rise;
      // A shallower cut waits for the end of the deeper one before it.
      if (cut_dB < current_dB && start < holdEnd) start = holdEnd;
      if (pending && start > holdEnd) curve.move(holdEnd, this.return_ms * samples, 0);
      curve.move(start, rise, -cut_dB);
      current_dB = cut_dB;
      holdEnd = hit + this.hold_ms * samples;
      pending = true;
    }
    if (pending) curve.move(holdEnd, this.return_ms * samples, 0);
  }

  get meter_dB(): number {
    return this.lastCut_dB;
  }

  process(left: Float64Array, right: Float64Array, frameCount: number): void {
    const { bandLeft, bandRight, gains } = this;
    this.trackKey(frameCount);
    const start = this.position - this.latencySamples;
    this.position += frameCount;
    bandLeft.set(left);
    bandRight.set(right);
    this.dry.process(left, right, frameCount);
    if (this.curve.idle && this.keyed.settled && this.keyed.goal === 0) {
      this.stale = true;
      this.lastCut_dB = 0;
      return;
    }
    if (this.stale) this.band.reset();
    this.stale = false;
    this.curve.fill(start, gains, frameCount);
    this.applyKey(frameCount);
    if (allOne(gains, frameCount)) {
      this.band.listen(bandLeft, bandRight);
      this.lastCut_dB = 0;
      return;
    }
    this.band.process(bandLeft, bandRight, frameCount);
    for (let i = 0; i < frameCount; i++) {
      const gain = gains[i]!;
      if (gain === 1) continue;
      left[i] = left[i]! + (gain - 1) * bandLeft[i]!;
      right[i] = right[i]! + (gain - 1) * bandRight[i]!;
    }
    const last = gains[frameCount - 1]!;
    this.lastCut_dB = last === 1 ? 0 : -amplitude_to_dB(last);
  }

  /** The cut that the kick asks for, brought to the time of the output. */
  private trackKey(frameCount: number): void {
    const { keyCuts_dB, unused } = this;
    this.rider.process(this.key.left, this.key.right, frameCount, keyCuts_dB);
    unused.fill(0);
    this.keyDelay.process(keyCuts_dB, unused, frameCount);
  }

  private applyKey(frameCount: number): void {
    if (this.keyed.settled && this.keyed.goal === 0) return;
    const { gains, shares, keyCuts_dB } = this;
    this.keyed.fill(shares, frameCount);
    for (let i = 0; i < frameCount; i++) {
      const cut_dB = shares[i]! * keyCuts_dB[i]!;
      if (cut_dB > 0) gains[i] = gains[i]! * dB_to_amplitude(-cut_dB);
    }
  }

  seek(songSample: number): void {
    this.reset();
    this.position = songSample;
  }

  reset(): void {
    this.curve.reset();
    this.band.reset();
    this.rider.reset();
    this.keyed.reset();
    this.dry.reset();
    this.keyDelay.reset();
    this.key.left.fill(0);
    this.key.right.fill(0);
    this.position = 0;
    this.stale = false;
    this.lastCut_dB = 0;
  }

  passState(tape: StateTape): void {
    this.band.passState(tape);
    this.rider.passState(tape);
    this.dry.passState(tape);
    this.keyDelay.passState(tape);
    this.position = tape.value(this.position);
    this.stale = tape.flag(this.stale);
    this.lastCut_dB = tape.value(this.lastCut_dB);
  }

  flush(): void {
    this.rider.flush();
    this.band.flush();
  }
}

function allOne(gains: Float64Array, frameCount: number): boolean {
  for (let i = 0; i < frameCount; i++) if (gains[i] !== 1) return false;
  return true;
}

export const makeRoom: StageDeclaration = {
  id: 'make-room',
  name: 'make room',
  help:
    'Lowers the bass in the contested band just where a kick falls, and only as far as that hit needs. It stands after trim: ' +
    'what it takes stays taken. Leave it off where nine hits of ten are clear, or where the bass is simply too loud.',
  source: 'own; zero-phase band by FIR; depths and times measured for this project',
  settings: [way, frequency, width, cut, ahead, hold, back, keyThreshold],
  figures: [
    { key: 'cutPerHit_dB', unit: 'dB', help: 'Per hit: the least cut that lifts it to the wish; 0 where it is clear.' },
  ],
  wish: {
    statistic: 'clearance.share2dB',
    name: 'share of hits 2 dB clear',
    unit: '',
    source: 'file',
    default: '>= 0.9',
    help: 'Share of the hits that stand at least 2 dB over what the bass masks. 9 hits of 10 is enough to feel the kick.',
  },
  linear: true,
  latencySamples: sideLength,
  create: (context: StageContext) => new MakeRoom(context.hits, context.sampleRate_Hz),
};
