import type { SongSound } from './song-sound.js';

/** What one file holds below the music: mean and infrasonic energy. */
export interface StemLows {
  readonly role: 'kick' | 'bass' | 'rest';
  readonly file: string;
}

export function measureStemLows(_sound: SongSound): StemLows[] {
  throw new Error('not built yet');
}
