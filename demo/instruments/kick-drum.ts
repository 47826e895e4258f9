import { cos, sinCycles, sinCyclesOfAll } from '../../core/units/exact-math.js';
import type { SeededRandom } from '../../core/units/seeded-random.js';
import { decayCurve } from './decay-curve.js';
import { OnePole } from './one-pole.js';

/** A kick drum as two microphones hear it. Velocity 0..1 changes the beater more than the shell, as feet do. */
export interface KickVoice {
  readonly fundamental_Hz: number;
  /** The head is this much higher when struck and settles with `sweep_s`. */
  readonly sweep_Hz: number;
  readonly sweep_s: number;
  /** Time constant of the shell's decay. */
  readonly decay_s: number;
  /** Beater click against the body, linear. */
  readonly click: number;
}

export interface KickSound {
  /** Microphone at the beater: click and body. */
  readonly inside: Float64Array;
  /** Microphone at the front head: body and air, no click. */
  readonly outside: Float64Array;
}

const HIT_S = 0.7;
const STRIKE_S = 0.05;

/**
 * Body: sin(2 pi (f t + a tau (1 - e^(-t/tau)))) e^(-t/decay), a head that falls to its pitch, plus a second mode of the head at
 * 1.59 times (the (1,1) mode of an ideal membrane; P. M. Morse, "Vibration and Sound", 1948, from memory). What every stroke has
 * in common is made once.
 */
export class KickDrum {
  private readonly frames: number;
  private readonly ramp: Float64Array;
  private readonly end: Float64Array;
  private readonly sweep: Float64Array;
  private readonly bodyDecay: Float64Array;
  private readonly headDecay: Float64Array;
  private readonly noiseDecay: Float64Array;
  private readonly tone: Float64Array;

  constructor(
    private readonly voice: KickVoice,
    private readonly sampleRate_Hz: number,
  ) {
    this.frames = Math.round(HIT_S * sampleRate_Hz);
    const curve = (tau_s: number): Float64Array => decayCurve(tau_s, this.frames, sampleRate_Hz);
    const shaped = (value: (t: number) => number): Float64Array =>
      Float64Array.from({ length: this.frames }, (_, n) => value(n / sampleRate_Hz));
    this.ramp = shaped((t) => (t < 0.0012 ? 0.5 - 0.5 * cos((Math.PI * t) / 0.0012) : 1));
    this.end = shaped((t) => (t > HIT_S - 0.1 ? 0.5 + 0.5 * cos((Math.PI * (t - HIT_S + 0.1)) / 0.1) : 1));
    this.sweep = curve(voice.sweep_s).map((fall) => 1 - fall);
    this.bodyDecay = curve(voice.decay_s);
    this.headDecay = curve(0.22 * voice.decay_s);
    this.noiseDecay = curve(0.0035);
    this.tone = curve(0.0018).map((fall, n) => 0.9 * sinCycles(2600 * (n / sampleRate_Hz)) * fall);
  }

  hit(velocity: number, random: SeededRandom): KickSound {
    const { frames, ramp, end, sampleRate_Hz } = this;
    const { fundamental_Hz, sweep_s } = this.voice;
    const sweep_Hz = this.voice.sweep_Hz * (0.8 + 0.2 * velocity);
    const body = new Float64Array(frames);
    const head = new Float64Array(frames);
    for (let n = 0; n < frames; n++) {
      const t = n / sampleRate_Hz;
      const bent = sweep_Hz * sweep_s * this.sweep[n]!;
      body[n] = fundamental_Hz * t + bent;
      head[n] = 1.59 * fundamental_Hz * t + bent;
    }
    sinCyclesOfAll(body);
    sinCyclesOfAll(head);
    const click = this.click(velocity, random);
    const air = new Float64Array(frames);
    for (let n = 0; n < frames; n++) {
      body[n] = body[n]! * this.bodyDecay[n]! * ramp[n]! * end[n]!;
      head[n] = head[n]! * this.headDecay[n]! * ramp[n]!;
      air[n] = 0.3 * head[n]! + 0.25 * click[n]!;
    }
    new OnePole(420, sampleRate_Hz).lowAll(air);
    for (let n = 0; n < frames; n++) {
      head[n] = velocity * (0.8 * body[n]! + 0.25 * head[n]! + click[n]!);
      air[n] = velocity * (body[n]! + air[n]!);
    }
    return { inside: head, outside: air };
  }

  private click(velocity: number, random: SeededRandom): Float64Array {
    const { ramp, sampleRate_Hz } = this;
    const click = new Float64Array(this.frames);
    for (let n = 0; n / sampleRate_Hz <= STRIKE_S; n++) {
      click[n] = random.between(-1, 1) * this.noiseDecay[n]! + this.tone[n]!;
    }
    new OnePole(3200 + 2600 * velocity, sampleRate_Hz).lowAll(click);
    const rumble = click.slice();
    new OnePole(700, sampleRate_Hz).lowAll(rumble);
    for (let n = 0; n < click.length; n++) {
      click[n] = this.voice.click * (0.35 + 0.65 * velocity) * (click[n]! - rumble[n]!) * ramp[n]!;
    }
    return click;
  }
}
