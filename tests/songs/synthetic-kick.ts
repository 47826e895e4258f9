import type { SeededRandom } from '../../core/units/seeded-random.js';

/** One synthetic kick: a falling sine with a click, and optionally a second mode that beats with the first. */
export interface KickRecipe {
  /** Settled pitch. */
  readonly frequency_Hz: number;
  /** Pitch at the very start over the settled pitch. */
  readonly startRatio: number;
  /** Time constant of the pitch fall. */
  readonly fall_ms: number;
  /** Time constant of the body's exponential. */
  readonly decay_ms: number;
  /** Linear ramp at the start. */
  readonly ramp_ms: number;
  /** Noise burst at the start, peak relative to the body; 0 = none. */
  readonly click: number;
  /** A second mode this many Hz above the settled pitch, a third as loud; 0 = none. */
  readonly beat_Hz: number;
  /** The body begins this much after the click. */
  readonly bodyDelay_ms: number;
}

export const PLAIN_KICK: KickRecipe = {
  frequency_Hz: 52,
  startRatio: 3,
  fall_ms: 12,
  decay_ms: 90,
  ramp_ms: 1,
  click: 0,
  beat_Hz: 0,
  bodyDelay_ms: 0,
};

/** k(t) = sin(2 pi [f t + (r - 1) f tau_f (1 - e^(-t / tau_f))]) e^(-t / tau) min(1, t / ramp), and the rest of the recipe. */
export function kickSound(
  recipe: KickRecipe,
  sampleRate_Hz: number,
  random: SeededRandom,
  length_s = 0.5,
): Float64Array {
  const { frequency_Hz: f, startRatio, decay_ms, ramp_ms, click, beat_Hz, bodyDelay_ms } = recipe;
  const fall = recipe.fall_ms / 1000;
  const sound = new Float64Array(Math.round(length_s * sampleRate_Hz));
  for (let n = 0; n < sound.length; n++) {
    const since = n / sampleRate_Hz;
    if (click > 0) sound[n]! += click * random.between(-1, 1) * Math.exp(-since / 0.002) * Math.min(1, since / 0.0003);
    const t = since - bodyDelay_ms / 1000;
    if (t < 0) continue;
    const phase = 2 * Math.PI * (f * t + (startRatio - 1) * f * fall * (1 - Math.exp(-t / fall)));
    const body = Math.sin(phase) + (beat_Hz > 0 ? Math.sin(phase + 2 * Math.PI * beat_Hz * t) / 3 : 0);
    sound[n]! += body * Math.exp((-1000 * t) / decay_ms) * Math.min(1, (1000 * t) / ramp_ms);
  }
  return sound;
}

/** Any kick an engineer might meet: tight to booming, with and without a click, sharp to slow. */
export function randomKick(random: SeededRandom): KickRecipe {
  const layered = random.uniform() < 0.2;
  return {
    frequency_Hz: random.between(38, 75),
    startRatio: random.between(1.3, 5),
    fall_ms: random.between(5, 30),
    decay_ms: random.uniform() < 0.3 ? random.between(200, 400) : random.between(50, 180),
    ramp_ms: random.uniform() < 0.25 ? random.between(5, 15) : random.between(0.3, 3),
    click: layered || random.uniform() < 0.6 ? random.between(0.15, 0.6) : 0,
    beat_Hz: random.uniform() < 0.3 ? random.between(4, 12) : 0,
    bodyDelay_ms: layered ? random.between(1, 4) : 0,
  };
}

/** One hit of a line. */
export interface KickHitTruth {
  readonly time_s: number;
  readonly gain: number;
}

/** A line of one kick, every hit added to what still rings. */
export function kickLine(
  hits: readonly KickHitTruth[],
  sound: Float64Array,
  sampleRate_Hz: number,
  length_s: number,
): Float64Array {
  const line = new Float64Array(Math.round(length_s * sampleRate_Hz));
  for (const { time_s, gain } of hits) {
    const at = Math.round(time_s * sampleRate_Hz);
    for (let n = 0; n < sound.length && at + n < line.length; n++) line[at + n]! += gain * sound[n]!;
  }
  return line;
}

/** White noise of a given level, 10 lg mean square, added in place. */
export function addNoise(line: Float64Array, level_dBFS: number, random: SeededRandom): void {
  const amplitude = Math.sqrt(3) * 10 ** (level_dBFS / 20);
  for (let n = 0; n < line.length; n++) line[n]! += random.between(-amplitude, amplitude);
}

/** Snare and hat bleed on the backbeats and eighths, peak relative to full scale, added in place. */
export function addDrumBleed(
  line: Float64Array,
  sampleRate_Hz: number,
  beat_s: number,
  peak: number,
  random: SeededRandom,
): void {
  for (let eighth = 0; eighth * 0.5 * beat_s * sampleRate_Hz < line.length; eighth++) {
    const snare = eighth % 4 === 2;
    const at = Math.round((eighth * 0.5 * beat_s + random.between(-0.004, 0.004)) * sampleRate_Hz);
    for (let n = 0; n < 0.25 * sampleRate_Hz; n++) {
      const t = n / sampleRate_Hz;
      if (at + n < 0 || at + n >= line.length) continue;
      const noise = random.between(-1, 1) * Math.exp(-t / (snare ? 0.06 : 0.02));
      const shell = snare ? 0.7 * Math.sin(2 * Math.PI * 190 * t) * Math.exp(-t / 0.07) : 0;
      line[at + n]! += peak * (snare ? 1 : 0.3) * Math.min(1, t / 0.0005) * (0.6 * noise + shell);
    }
  }
}

/** The attack of a sound: the first sample at 10 % of its peak, in s from its first sample. */
export function attackOf(sound: Float64Array, sampleRate_Hz: number): number {
  const peak = sound.reduce((largest, value) => Math.max(largest, Math.abs(value)), 0);
  return sound.findIndex((value) => Math.abs(value) >= 0.1 * peak) / sampleRate_Hz;
}
