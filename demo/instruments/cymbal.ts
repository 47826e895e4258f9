import { butterworthHighPass } from '../../core/dsp/butterworth.js';
import { sinCyclesOfAll } from '../../core/units/exact-math.js';
import type { SeededRandom } from '../../core/units/seeded-random.js';
import { decayCurve } from './decay-curve.js';
import { filteredTrack } from './filtered-track.js';

export interface CymbalVoice {
  /** Lowest of the metal's partials. */
  readonly lowest_Hz: number;
  readonly decay_s: number;
  /** Corner under which nothing is left. */
  readonly thinCorner_Hz: number;
  /** Share of noise against partials, 0..1. */
  readonly noise: number;
  readonly length_s: number;
}

/** Unharmonic ratios of a struck plate's partials, chosen by ear of the maker to beat slowly with one another. */
const PARTIALS = [1, 1.342, 1.2312, 1.6532, 1.9523, 2.1523, 2.6121, 3.179, 3.874, 4.412];

/** One take of a struck cymbal at full level. Metal: clangorous partials, each modulated by its neighbour, and noise; high-passed; a fast and a slow decay. */
export function cymbalHit(voice: CymbalVoice, sampleRate_Hz: number, random: SeededRandom): Float64Array {
  const output = new Float64Array(Math.round(voice.length_s * sampleRate_Hz));
  const metal = metalOf(voice, output.length, sampleRate_Hz, random);
  const slow = decayCurve(voice.decay_s, output.length, sampleRate_Hz);
  const fast = decayCurve(0.25 * voice.decay_s, output.length, sampleRate_Hz);
  for (let n = 0; n < output.length; n++) {
    const t = n / sampleRate_Hz;
    const envelope = 0.65 * slow[n]! + 0.35 * fast[n]!;
    const ramp = t < 0.0004 ? t / 0.0004 : 1;
    const fade = Math.min(1, (output.length - n) / (0.02 * sampleRate_Hz));
    output[n] = ramp * fade * envelope * (0.3 * (1 - voice.noise) * metal[n]! + voice.noise * random.between(-1, 1));
  }
  return filteredTrack(output, butterworthHighPass(3, voice.thinCorner_Hz, sampleRate_Hz));
}

/** Five pairs of partials, the second of each turning the phase of the first. */
function metalOf(
  { lowest_Hz }: CymbalVoice,
  frames: number,
  sampleRate_Hz: number,
  random: SeededRandom,
): Float64Array {
  const phases = PARTIALS.map(() => random.uniform());
  const metal = new Float64Array(frames);
  const wave = new Float64Array(frames);
  for (let p = 0; p < PARTIALS.length; p += 2) {
    const [carrier_Hz, modulator_Hz] = [lowest_Hz * PARTIALS[p]!, lowest_Hz * PARTIALS[p + 1]!];
    for (let n = 0; n < frames; n++) wave[n] = modulator_Hz * (n / sampleRate_Hz) + phases[p + 1]!;
    sinCyclesOfAll(wave);
    for (let n = 0; n < frames; n++) wave[n] = carrier_Hz * (n / sampleRate_Hz) + phases[p]! + 0.55 * wave[n]!;
    sinCyclesOfAll(wave);
    for (let n = 0; n < frames; n++) metal[n]! += wave[n]!;
  }
  return metal;
}
