import { BiquadCascade, type BiquadCoefficients } from '../../core/dsp/biquad.js';

/** Filters a whole track in place, its state flushed every 128 samples of song time. */
export function filteredTrack(track: Float64Array, sections: readonly BiquadCoefficients[]): Float64Array {
  const cascade = new BiquadCascade(sections);
  for (let from = 0; from < track.length; from += 128) {
    cascade.process(track.subarray(from, Math.min(track.length, from + 128)));
    cascade.flush();
  }
  return track;
}

/** Adds one sound into a track at a time, at a gain; what lies beyond either end is dropped. */
export function addAt(track: Float64Array, sound: Float64Array, start_samples: number, gain = 1): void {
  const from = Math.max(0, -start_samples);
  const to = Math.min(sound.length, track.length - start_samples);
  for (let i = from; i < to; i++) track[start_samples + i]! += gain * sound[i]!;
}
