import { conformedStem, type OpenSong } from '../core/job/open-song.js';
import type { SongSound, Track } from '../core/measure/song-sound.js';
import { isTreated } from '../core/treatment/paths.js';
import type { Treatment } from '../core/treatment/treatment.js';
import type { HeardPart } from '../protocol/heard-part.js';

/** The song's sound, with the single files of the rest where they are treated one by one and heard. */
export async function withRestTracks(song: OpenSong, treatment: Treatment, part: HeardPart): Promise<SongSound> {
  if ((part !== 'all' && part !== 'rest') || !isTreated(treatment, 'rest')) return song.sound;
  const rest: Track[] = [];
  for (const { file } of treatment.rest.tracks) {
    const stem = song.files.find((one) => one.stem.file === file);
    if (stem !== undefined) rest.push({ file, signal: await conformedStem(stem.open, stem.start, song) });
  }
  return { ...song.sound, tracks: { ...song.sound.tracks, rest } };
}
