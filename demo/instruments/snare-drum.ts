import { cos, sinCycles, sinCyclesOfAll } from '../../core/units/exact-math.js';
import type { SeededRandom } from '../../core/units/seeded-random.js';
import { decayCurve } from './decay-curve.js';
import { OnePole } from './one-pole.js';

export interface SnareVoice {
  readonly head_Hz: number;
  readonly headDecay_s: number;
  readonly wireDecay_s: number;
  /** Level of the wires against the head, linear. */
  readonly wires: number;
}

const HIT_S = 0.5;
const BEND_S = 0.008;

/**
 * A snare drum: two head modes a little bent by the stroke, a third that is not, and wires as noise in two bands. What every
 * stroke has in common is made once.
 */
export class SnareDrum {
  private readonly frames: number;
  private readonly ramp: Float64Array;
  private readonly end: Float64Array;
  private readonly bend: Float64Array;
  private readonly lowDecay: Float64Array;
  private readonly highDecay: Float64Array;
  private readonly third: Float64Array;
  private readonly wireDecay: Float64Array;

  constructor(
    private readonly voice: SnareVoice,
    private readonly sampleRate_Hz: number,
  ) {
    this.frames = Math.round(HIT_S * sampleRate_Hz);
    const curve = (tau_s: number): Float64Array => decayCurve(tau_s, this.frames, sampleRate_Hz);
    const shaped = (value: (t: number) => number): Float64Array =>
      Float64Array.from({ length: this.frames }, (_, n) => value(n / sampleRate_Hz));
    this.ramp = shaped((t) => (t < 0.0006 ? t / 0.0006 : 1));
    this.end = shaped((t) => (t > 0.45 ? 0.5 + 0.5 * cos((Math.PI * (t - 0.45)) / 0.05) : 1));
    this.bend = curve(BEND_S).map((fall) => 0.35 * (1 - fall));
    this.lowDecay = curve(voice.headDecay_s);
    this.highDecay = curve(0.55 * voice.headDecay_s);
    this.third = curve(0.3 * voice.headDecay_s).map(
      (fall, n) => 0.25 * sinCycles(2.9 * voice.head_Hz * (n / sampleRate_Hz)) * fall,
    );
    const quick = curve(0.012);
    this.wireDecay = curve(voice.wireDecay_s).map((fall, n) => fall + 0.8 * quick[n]!);
  }

  /** @param velocity 0..1. */
  hit(velocity: number, random: SeededRandom): Float64Array {
    const { frames, sampleRate_Hz } = this;
    const { head_Hz, wires: wiresLevel } = this.voice;
    const low = new Float64Array(frames);
    const high = new Float64Array(frames);
    const hiss = new Float64Array(frames);
    for (let n = 0; n < frames; n++) {
      const t = n / sampleRate_Hz;
      const bent = this.bend[n]! * velocity;
      low[n] = head_Hz * t + bent;
      high[n] = 1.78 * head_Hz * t + bent;
      hiss[n] = random.between(-1, 1);
    }
    sinCyclesOfAll(low);
    sinCyclesOfAll(high);
    new OnePole(3500 + 6500 * velocity, sampleRate_Hz).lowAll(hiss);
    const rumble = hiss.slice();
    new OnePole(900, sampleRate_Hz).lowAll(rumble);
    const output = new Float64Array(frames);
    for (let n = 0; n < frames; n++) {
      const head = low[n]! * this.lowDecay[n]! + 0.6 * high[n]! * this.highDecay[n]! + this.third[n]!;
      const wires = (hiss[n]! - rumble[n]!) * this.wireDecay[n]!;
      output[n] = velocity * this.ramp[n]! * this.end[n]! * (0.55 * head + wiresLevel * (0.5 + 0.5 * velocity) * wires);
    }
    return output;
  }
}
