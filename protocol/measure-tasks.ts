import type { MeasuredParts, PartName } from '../core/measure/measure-parts.js';
import type { Knowledge, SongSound } from '../core/measure/song-sound.js';

/**
 * What can be asked of a thread that measures beside the one that holds the song. It gets a copy of each role's sum, null where
 * the song has none: the kick first, whose hits are then looked for while the other files are still read.
 */
export interface MeasureTasks {
  hearKick: { readonly ask: SongSound['kick']; readonly answer: null };
  hearBass: { readonly ask: SongSound['bass']; readonly answer: Knowledge };
  hearRest: { readonly ask: HeardRest; readonly answer: null };
  /** A part of the sums of the roles. */
  measure: { readonly ask: PartName; readonly answer: MeasuredParts };
}

export type HeardRest = Pick<SongSound, 'rest' | 'sampleRate_Hz' | 'frameCount'>;
