import type { Knowledge, SongSound } from './song-sound.js';

/** Finds every hit and note, the tempo, and the kick's fundamental and decay. */
export function knowSong(_sound: SongSound): Knowledge {
  throw new Error('not built yet');
}
