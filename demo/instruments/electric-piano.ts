import { cos, exp, sinCyclesOfAll } from '../../core/units/exact-math.js';

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
  const { frequency_Hz: f, velocity, length_s } = voice;
  const output = new Float64Array(Math.round((length_s + RELEASE_s) * sampleRate_Hz));
  const warm = warmBody(voice, output.length, sampleRate_Hz);
  const ring = bellRing(voice, sampleRate_Hz);
  const bodyFall = exp(-1 / (2.6 * (220 / (f + 120)) * sampleRate_Hz));
  const releaseFall = exp(-1 / (0.045 * sampleRate_Hz));
  let [body, released] = [0.8 * velocity, 1];
  for (let n = 0; n < output.length; n++) {
    const t = n / sampleRate_Hz;
    const ramp = t < 0.003 ? 0.5 - 0.5 * cos((Math.PI * t) / 0.003) : 1;
    const end = t > length_s + RELEASE_s - 0.02 ? (length_s + RELEASE_s - t) / 0.02 : 1;
    output[n] = ramp * released * end * (body * warm[n]! + (n < ring.length ? ring[n]! : 0));
    body *= bodyFall;
    if (t > length_s) released *= releaseFall;
  }
  return output;
}

const RELEASE_s = 0.18;

function warmBody({ frequency_Hz, velocity }: PianoVoice, frames: number, sampleRate_Hz: number): Float64Array {
  const warm = new Float64Array(frames);
  for (let n = 0; n < frames; n++) warm[n] = frequency_Hz * (n / sampleRate_Hz) + 0.1;
  sinCyclesOfAll(warm);
  const indexFall = exp(-1 / (0.35 * sampleRate_Hz));
  const indexAtStroke = 0.06 + 0.26 * velocity;
  let bright = 0.7;
  for (let n = 0; n < frames; n++) {
    warm[n] = frequency_Hz * (n / sampleRate_Hz) + indexAtStroke * (0.3 + bright) * warm[n]!;
    bright *= indexFall;
  }
  sinCyclesOfAll(warm);
  return warm;
}

/** The bell of the stroke, as long as it is heard. */
function bellRing({ frequency_Hz, velocity }: PianoVoice, sampleRate_Hz: number): Float64Array {
  const bellFall = exp(-1 / (0.12 * sampleRate_Hz));
  let frames = 0;
  for (let level = 0.2 * velocity; level >= 1e-4; level *= bellFall) frames++;
  const ring = new Float64Array(frames);
  for (let n = 0; n < frames; n++) ring[n] = 14 * (frequency_Hz * (n / sampleRate_Hz));
  sinCyclesOfAll(ring);
  for (let n = 0; n < frames; n++) ring[n] = frequency_Hz * (n / sampleRate_Hz) + 0.05 * velocity * ring[n]!;
  sinCyclesOfAll(ring);
  let level = 0.2 * velocity;
  for (let n = 0; n < frames; n++) {
    ring[n]! *= level;
    level *= bellFall;
  }
  return ring;
}
