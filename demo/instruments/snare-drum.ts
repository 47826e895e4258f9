import { cos, exp, sinCycles } from '../../core/units/exact-math.js';
import type { SeededRandom } from '../../core/units/seeded-random.js';
import { OnePole } from './one-pole.js';

export interface SnareVoice {
  readonly head_Hz: number;
  readonly headDecay_s: number;
  readonly wireDecay_s: number;
  /** Level of the wires against the head, linear. */
  readonly wires: number;
}

/** A snare drum: two head modes a little bent by the stroke, and wires as noise in two bands. Velocity 0..1. */
export function snareHit(
  voice: SnareVoice,
  velocity: number,
  sampleRate_Hz: number,
  random: SeededRandom,
): Float64Array {
  const output = new Float64Array(Math.round(0.5 * sampleRate_Hz));
  const bright = new OnePole(3500 + 6500 * velocity, sampleRate_Hz);
  const thin = new OnePole(900, sampleRate_Hz);
  for (let n = 0; n < output.length; n++) {
    const t = n / sampleRate_Hz;
    const ramp = t < 0.0006 ? t / 0.0006 : 1;
    const end = t > 0.45 ? 0.5 + 0.5 * cos((Math.PI * (t - 0.45)) / 0.05) : 1;
    const bent = 0.35 * (1 - exp(-t / 0.008)) * velocity;
    const head =
      sinCycles(voice.head_Hz * t + bent) * exp(-t / voice.headDecay_s) +
      0.6 * sinCycles(1.78 * voice.head_Hz * t + bent) * exp(-t / (0.55 * voice.headDecay_s)) +
      0.25 * sinCycles(2.9 * voice.head_Hz * t) * exp(-t / (0.3 * voice.headDecay_s));
    const hiss = bright.low(random.between(-1, 1));
    const wires = (hiss - thin.low(hiss)) * (exp(-t / voice.wireDecay_s) + 0.8 * exp(-t / 0.012));
    output[n] = velocity * ramp * end * (0.55 * head + voice.wires * (0.5 + 0.5 * velocity) * wires);
  }
  return output;
}
