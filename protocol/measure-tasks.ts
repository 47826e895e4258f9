import type { MeasuredParts, PartName } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';

/** What can be asked of a thread that measures beside the one that holds the song. It gets a copy of the sound. */
export interface MeasureTasks {
  take: { readonly ask: SongSound; readonly answer: null };
  /** Hits, notes and the like; kept for the parts that need them. */
  know: { readonly ask: null; readonly answer: Knowledge };
  measure: { readonly ask: PartName; readonly answer: MeasuredParts };
}
