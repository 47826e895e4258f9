import { atan2, cos, exp, exp10, sin } from '../../core/units/exact-math.js';
import type { SeededRandom } from '../../core/units/seeded-random.js';

/**
 * One pluck of a string. K. Karplus and A. Strong, "Digital Synthesis of Plucked-String and Drum Timbres", Computer Music
 * Journal 7(2), 1983, with the extensions of D. Jaffe and J. Smith, "Extensions of the Karplus-Strong Plucked-String Algorithm",
 * same issue: exact tuning, pick position, loop damping, decay shortening and lengthening, and a player's dynamics.
 *
 * The string is a delay line one period long, read between samples by a cubic Lagrange interpolator (T. Laakso et al.,
 * "Splitting the Unit Delay", IEEE Signal Processing Magazine 13(1), 1996), through a one-pole low-pass whose delay at the
 * fundamental is taken off the line, times a gain that gives the wanted decay.
 */
export interface Pluck {
  readonly frequency_Hz: number;
  /** From the pluck to the moment the finger stops the string. */
  readonly length_s: number;
  /** Time for the fundamental to fall 60 dB while the string rings. */
  readonly decayT60_s: number;
  /** Time to fall 60 dB once the finger lies on the string. */
  readonly releaseT60_s: number;
  /** Corner of the loop's low-pass: how fast the upper partials die. */
  readonly dampingCorner_Hz: number;
  /** Where the string is plucked, share of its length from the bridge, 0..0.5. */
  readonly pickPosition: number;
  /** Corner of the low-pass on the pluck itself: soft fingers are duller. */
  readonly touchCorner_Hz: number;
  /** Share of noise in the pluck, 0..1: nail and fret. */
  readonly noise: number;
  /** A slide into the note: starts this far off (semitones) and arrives after `slide_s`. */
  readonly slideFrom_semitones?: number;
  readonly slide_s?: number;
}

/** @returns the string's movement, peak under 1, `length_s` and its release long. */
export function pluckedString(pluck: Pluck, sampleRate_Hz: number, random: SeededRandom): Float64Array {
  const releaseFrames = Math.ceil(pluck.releaseT60_s * sampleRate_Hz);
  const soundingFrames = Math.round(pluck.length_s * sampleRate_Hz);
  const output = new Float64Array(soundingFrames + releaseFrames);
  const loop = makeLoop(pluck, sampleRate_Hz);
  const line = new Float64Array(4096);
  const longest = Math.ceil(loop.period * semitoneRatio(Math.max(0, -(pluck.slideFrom_semitones ?? 0)))) + 8;
  if (longest > line.length) throw new RangeError(`a string of ${pluck.frequency_Hz} Hz is too long for its line`);
  const shape = pluckShape(pluck, loop.period, sampleRate_Hz, random);
  const rampFrames = Math.round(0.002 * sampleRate_Hz);
  const touchFrames = 0.02 * sampleRate_Hz; // a fingertip is soft
  let damped = 0;
  for (let n = 0; n < output.length; n++) {
    const touched = Math.min(1, Math.max(0, (n - soundingFrames) / touchFrames));
    const gain = loop.ringingGain + touched * (loop.releasedGain - loop.ringingGain);
    const length = loop.lineLength * slideRatio(pluck, n / sampleRate_Hz);
    const back = readBetween(line, n, length);
    damped = back + loop.pole * (damped - back);
    const sample = (n < shape.length ? shape[n]! : 0) + damped * gain;
    line[n & 4095] = Math.abs(sample) < 1e-30 ? 0 : sample;
    output[n] = n < rampFrames ? (sample * n) / rampFrames : sample;
  }
  fadeTail(output, Math.min(releaseFrames, Math.round(0.02 * sampleRate_Hz)));
  return output;
}

interface Loop {
  readonly period: number;
  readonly lineLength: number;
  readonly pole: number;
  readonly ringingGain: number;
  readonly releasedGain: number;
}

function makeLoop(pluck: Pluck, sampleRate_Hz: number): Loop {
  const period = sampleRate_Hz / pluck.frequency_Hz;
  const pole = exp((-2 * Math.PI * pluck.dampingCorner_Hz) / sampleRate_Hz);
  const w = (2 * Math.PI * pluck.frequency_Hz) / sampleRate_Hz;
  const re = 1 - pole * cos(w);
  const im = pole * sin(w);
  const filterDelay = atan2(im, re) / w;
  const filterGain = (1 - pole) / Math.sqrt(re * re + im * im);
  return {
    period,
    lineLength: period - filterDelay,
    pole,
    ringingGain: Math.min(1, exp10(-3 / (pluck.frequency_Hz * pluck.decayT60_s)) / filterGain),
    releasedGain: exp10(-3 / (pluck.frequency_Hz * pluck.releaseT60_s)) / filterGain,
  };
}

/** A string drawn aside and let go: two opposite steps a pick position apart, softened by the touch, and a little noise. */
function pluckShape(pluck: Pluck, period: number, sampleRate_Hz: number, random: SeededRandom): Float64Array {
  const frames = Math.round(period);
  const shape = new Float64Array(frames);
  const corner = pluck.pickPosition * frames;
  for (let i = 0; i < frames; i++) {
    const position = i + 0.5;
    const bent = position < corner ? position / corner : (frames - position) / (frames - corner);
    shape[i] = bent * (1 - pluck.noise) + pluck.noise * random.between(-1, 1);
  }
  const pole = exp((-2 * Math.PI * pluck.touchCorner_Hz) / sampleRate_Hz);
  let mean = 0;
  for (let i = 0; i < frames; i++) mean += shape[i]! / frames;
  let softened = 0;
  for (let pass = 0; pass < 2; pass++) {
    for (let i = 0; i < frames; i++) {
      softened = shape[i]! - mean + pole * (softened - (shape[i]! - mean));
      if (pass === 1) shape[i] = softened;
    }
  }
  return shape;
}

function semitoneRatio(semitones: number): number {
  return exp10((semitones * 0.30102999566398119521) / 12);
}

/** How much longer the string is than at its goal while the finger slides: a raised cosine in pitch. */
function slideRatio(pluck: Pluck, time_s: number): number {
  const from = pluck.slideFrom_semitones ?? 0;
  const slide_s = pluck.slide_s ?? 0;
  if (from === 0 || time_s >= slide_s) return 1;
  return semitoneRatio(-from * 0.5 * (1 + cos((Math.PI * time_s) / slide_s)));
}

/** The line `length` samples ago, cubic Lagrange between the four samples around it. */
function readBetween(line: Float64Array, now: number, length: number): number {
  const whole = Math.floor(length) - 1;
  const d = length - whole;
  const a = line[(now - whole) & 4095]!;
  const b = line[(now - whole - 1) & 4095]!;
  const c = line[(now - whole - 2) & 4095]!;
  const e = line[(now - whole - 3) & 4095]!;
  return (
    (-a * (d - 1) * (d - 2) * (d - 3)) / 6 +
    (b * d * (d - 2) * (d - 3)) / 2 -
    (c * d * (d - 1) * (d - 3)) / 2 +
    (e * d * (d - 1) * (d - 2)) / 6
  );
}

function fadeTail(samples: Float64Array, frames: number): void {
  for (let i = 0; i < frames; i++) {
    samples[samples.length - 1 - i]! *= 0.5 - 0.5 * cos((Math.PI * i) / frames);
  }
}
