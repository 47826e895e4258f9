import type { KnownKick } from '../core/measure/know-song.js';
import type { MeasuredParts, PartName } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';

/** What can be asked of a thread that measures beside the one that holds the song. */
export interface MeasureTasks {
  /** Copies of what was read so far; the rest follows. */
  hear: { readonly ask: HeardSums; readonly answer: null };
  /** Of the kick that was heard. */
  knowKick: { readonly ask: null; readonly answer: KnownKick };
  /** What is known of the song, for the parts that need it. */
  learn: { readonly ask: Knowledge; readonly answer: null };
  /** A part of the sums of the roles. */
  measure: { readonly ask: PartName; readonly answer: MeasuredParts };
}

export type HeardSums = Partial<Omit<SongSound, 'tracks'>>;
