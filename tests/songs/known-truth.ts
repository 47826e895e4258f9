import { knowSong } from '../../core/measure/know-song.js';
import type { Knowledge } from '../../core/measure/song-sound.js';
import { figure, unmeasurable } from '../../core/units/reading.js';
import type { TestSong } from './song-of-parts.js';

/** What was really played, in the shape of what is found. The kick's pitch and decay are left out. */
export function knownTruth({ truth }: TestSong): Knowledge {
  const left = unmeasurable('Not part of the truth of a test song.');
  return {
    hits: truth.hits,
    notes: truth.notes,
    tempo_bpm: figure(truth.tempo_bpm),
    fundamental_Hz: left,
    decay_ms: left,
  };
}

export function knownByEar({ sound }: TestSong): Knowledge {
  return knowSong(sound);
}
