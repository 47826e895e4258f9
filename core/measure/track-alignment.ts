import type { Knowledge, SongSound } from './song-sound.js';

/** How one file of a role stands in time and polarity to the first file of that role. */
export interface TrackAlignment {
  readonly role: 'kick' | 'bass';
  readonly reference: string;
  readonly file: string;
}

export function measureTrackAlignments(_sound: SongSound, _known: Knowledge): TrackAlignment[] {
  throw new Error('not built yet');
}
