import type { Track } from '../../core/measure/song-sound.js';
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
import { withParts, type TestSong } from '../songs/song-of-parts.js';

/** The stems of a song as the files of a folder. */
export type SongFiles = Readonly<Record<string, Uint8Array>>;

const BARS = 3;

/** Six stems, under nine seconds, with six findings: a covered kick, two bass tracks apart, rumble, a loud pitch, wide lows. */
export function faultyFiles(): SongFiles {
  return named('Lamp Room', faultySong());
}

/** The same as it sounds. */
export function faultySong(): TestSong {
  const covered = injectCoveredKick(soulSong(BARS), 15);
  const apart = injectMisalignedMics(injectWideLows(covered, 0.8), 4);
  return injectRumble(injectResonantNote(apart, 7, 36), -32);
}

/** The same stems with the other faults that can be found: lows that cancel, a bass that small speakers lose, an offset, clipping. */
export function otherFaultyFiles(): SongFiles {
  const lost = injectLostOnSmallSpeakers(injectCancellingLows(soulSong(BARS), 1.2), 90);
  return named('Ebb Line', injectDcOffset(injectNoHeadroom(injectUnevenNotes(lost, 9), 14), -40));
}

/** The faulty song over twelve tracks with names as they come from a session: three of the kick, three of the bass, six others. */
export function twelveTracks(): SongFiles {
  const song = injectWideLows(injectCoveredKick(soulSong(2), 15), 0.8);
  const { kick, bass, rest } = song.sound.tracks;
  const take = 'take 3 edited.wav';
  const three = (of: readonly Track[], first: number, name: string): Track[] => [
    { ...of[0]!, file: `${first} ${name} inside microphone ${take}` },
    { ...of[1]!, file: `${first + 1} ${name} outside microphone ${take}` },
    later(of[0]!, `${first + 2} ${name} third microphone ${take}`, 40),
  ];
  const others = ['Drums overhead pair', 'Keys left hand', 'Guitar cabinet', 'Organ low drawbars', 'Strings', 'Vocal'];
  const twelve = withParts(song, {
    kick: three(kick, 11, 'Kick'),
    bass: three(bass, 14, 'Bass'),
    rest: others.map((name, i) => later(rest[i % 2]!, `${17 + i} ${name} ${take}`, 7000 * i)),
  });
  return named('Breakwater', twelve);
}

/** Another track of what is heard on this one, so much later. */
function later({ signal }: Track, file: string, by_samples: number): Track {
  const moved = Float64Array.from(signal.left, (_, n) => 0.5 * (signal.left[n - by_samples] ?? 0));
  return { file, signal: { left: moved, right: moved, sampleRate_Hz: signal.sampleRate_Hz } };
}

/** Every file begins with the song's name, by which a drop of files is called. */
function named(name: string, song: TestSong): SongFiles {
  return Object.fromEntries(Object.entries(filesOf(song)).map(([file, bytes]) => [`${name} ${file}`, bytes]));
}
