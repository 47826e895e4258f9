import { filesOf } from '../end-to-end/song-folder.js';
import { soulSong } from '../songs/clean-songs.js';
import {
  injectCancellingLows,
  injectCoveredKick,
  injectDcOffset,
  injectLostOnSmallSpeakers,
  injectMisalignedMics,
  injectNoHeadroom,
  injectResonantNote,
  injectRumble,
  injectUnevenNotes,
  injectWideLows,
} from '../songs/injected-faults.js';
import type { TestSong } from '../songs/song-of-parts.js';

/** The stems of a song as the files of a folder. */
export type SongFiles = Readonly<Record<string, Uint8Array>>;

const BARS = 3;

/** Six stems, under nine seconds, with six findings: a covered kick, two bass tracks apart, rumble, a loud pitch, wide lows. */
export function faultyFiles(): SongFiles {
  const covered = injectCoveredKick(soulSong(BARS), 15);
  const apart = injectMisalignedMics(injectWideLows(covered, 0.8), 4);
  return named('Lamp Room', injectRumble(injectResonantNote(apart, 7, 36), -32));
}

/** The same stems with the other faults that can be found: lows that cancel, a bass that small speakers lose, an offset, clipping. */
export function otherFaultyFiles(): SongFiles {
  const lost = injectLostOnSmallSpeakers(injectCancellingLows(soulSong(BARS), 1.2), 90);
  return named('Ebb Line', injectDcOffset(injectNoHeadroom(injectUnevenNotes(lost, 9), 14), -40));
}

/** Every file begins with the song's name, by which a drop of files is called. */
function named(name: string, song: TestSong): SongFiles {
  return Object.fromEntries(Object.entries(filesOf(song)).map(([file, bytes]) => [`${name} ${file}`, bytes]));
}
