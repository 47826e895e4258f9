import { cos, exp, sinCycles } from '../../core/units/exact-math.js';
import type { SeededRandom } from '../../core/units/seeded-random.js';
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

/**
 * Body: sin(2 pi (f t + a tau (1 - e^(-t/tau)))) e^(-t/decay), a head that falls to its pitch, plus a second mode of the head at
 * 1.59 times (the (1,1) mode of an ideal membrane; P. M. Morse, "Vibration and Sound", 1948, from memory).
 */
export function kickHit(voice: KickVoice, velocity: number, sampleRate_Hz: number, random: SeededRandom): KickSound {
  const frames = Math.round(HIT_S * sampleRate_Hz);
  const inside = new Float64Array(frames);
  const outside = new Float64Array(frames);
  const sweep_Hz = voice.sweep_Hz * (0.8 + 0.2 * velocity);
  const beater = new OnePole(3200 + 2600 * velocity, sampleRate_Hz);
  const rumbleOff = new OnePole(700, sampleRate_Hz);
  const air = new OnePole(420, sampleRate_Hz);
  for (let n = 0; n < frames; n++) {
    const t = n / sampleRate_Hz;
    const bent = sweep_Hz * voice.sweep_s * (1 - exp(-t / voice.sweep_s));
    const ramp = t < 0.0012 ? 0.5 - 0.5 * cos((Math.PI * t) / 0.0012) : 1;
    const end = t > HIT_S - 0.1 ? 0.5 + 0.5 * cos((Math.PI * (t - HIT_S + 0.1)) / 0.1) : 1;
    const body = sinCycles(voice.fundamental_Hz * t + bent) * exp(-t / voice.decay_s) * ramp * end;
    const head = sinCycles(1.59 * voice.fundamental_Hz * t + bent) * exp(-t / (0.22 * voice.decay_s)) * ramp;
    const strike =
      t > 0.05 ? 0 : random.between(-1, 1) * exp(-t / 0.0035) + 0.9 * sinCycles(2600 * t) * exp(-t / 0.0018);
    const clicked = beater.low(strike);
    const click = voice.click * (0.35 + 0.65 * velocity) * (clicked - rumbleOff.low(clicked)) * ramp;
    inside[n] = velocity * (0.8 * body + 0.25 * head + click);
    outside[n] = velocity * (body + air.low(0.3 * head + 0.25 * click));
  }
  return { inside, outside };
}
