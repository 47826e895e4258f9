import { cos, exp, sinCycles } from '../../core/units/exact-math.js';

export interface PianoVoice {
  readonly frequency_Hz: number;
  readonly length_s: number;
  /** 0..1: harder strokes are brighter. */
  readonly velocity: number;
}

/**
 * Tines and reeds by frequency modulation: J. Chowning, "The Synthesis of Complex Audio Spectra by Means of Frequency
 * Modulation", JAES 21(7), 1973. One pair at 1:1 for the warm body, its index falling with the note, one at 1:14 for the bell
 * of the stroke.
 */
export function electricPianoNote(voice: PianoVoice, sampleRate_Hz: number): Float64Array {
  const release_s = 0.18;
  const { frequency_Hz: f, velocity, length_s } = voice;
  const output = new Float64Array(Math.round((length_s + release_s) * sampleRate_Hz));
  const decay_s = 2.6 * (220 / (f + 120));
  const bodyFall = exp(-1 / (decay_s * sampleRate_Hz));
  const bellFall = exp(-1 / (0.12 * sampleRate_Hz));
  const indexFall = exp(-1 / (0.35 * sampleRate_Hz));
  const releaseFall = exp(-1 / (0.045 * sampleRate_Hz));
  const indexAtStroke = 0.06 + 0.26 * velocity;
  let [body, bell, bright, released] = [0.8 * velocity, 0.2 * velocity, 0.7, 1];
  for (let n = 0; n < output.length; n++) {
    const t = n / sampleRate_Hz;
    const ramp = t < 0.003 ? 0.5 - 0.5 * cos((Math.PI * t) / 0.003) : 1;
    const end = t > length_s + release_s - 0.02 ? (length_s + release_s - t) / 0.02 : 1;
    const cycles = f * t;
    const warm = sinCycles(cycles + indexAtStroke * (0.3 + bright) * sinCycles(cycles + 0.1));
    const ring = bell < 1e-4 ? 0 : sinCycles(cycles + 0.05 * velocity * sinCycles(14 * cycles));
    output[n] = ramp * released * end * (body * warm + bell * ring);
    body *= bodyFall;
    bell *= bellFall;
    bright *= indexFall;
    if (t > length_s) released *= releaseFall;
  }
  return output;
}
