import { isSummed, type OpenSong } from '../core/job/open-song.js';
import type { OpenStem } from '../core/job/open-stems.js';
import { clockOf } from '../core/job/song-clock.js';
import type { Role } from '../core/song/song.js';
import type { BesideFile, SoundingFile, SoundingSong } from '../protocol/sound-request.js';

/** What sounds of a song that was opened and listened to. */
export function soundingSong(song: OpenSong): SoundingSong {
  const { name, sampleRate_Hz, frameCount, monoStems_dB } = song;
  const roles = new Map(song.files.map(({ stem }) => [stem.file, stem.role]));
  const starts = new Map(song.files.map(({ stem, start }) => [stem.file, start]));
  const opened = song.files.map(({ open }) => open);
  const roleOf = (file: string) => roles.get(file)!;
  const startOf = (file: string) => starts.get(file)!;
  return {
    ...{ name, sampleRate_Hz, frameCount, monoStems_dB },
    files: filesByRole(opened, roleOf, startOf),
    bed: song.bed.map(({ file, sign }) => ({ file, start: startOf(file), sign })),
    besides: filesBeside(opened, roleOf, sampleRate_Hz),
  };
}

/** What sounds of files whose roles are only named; nothing is set aside yet. Null where nothing counts. */
export function namedSoundingSong(
  name: string,
  stems: readonly OpenStem[],
  roleOf: (file: string) => Role,
  monoStems_dB: number,
): SoundingSong | null {
  const summed = stems.filter(({ file }) => isSummed(roleOf(file)));
  if (summed.length === 0) return null;
  const { sampleRate_Hz, frameCount, startOf } = clockOf(summed);
  const files = filesByRole(stems, roleOf, startOf);
  return {
    ...{ name, sampleRate_Hz, frameCount, monoStems_dB, files },
    bed: files.rest.map((file) => ({ ...file, sign: 1 })),
    besides: filesBeside(stems, roleOf, sampleRate_Hz),
  };
}

function filesByRole(
  stems: readonly OpenStem[],
  roleOf: (file: string) => Role,
  startOf: (file: string) => number,
): SoundingSong['files'] {
  const of = (role: Role): SoundingFile[] =>
    stems.filter(({ file }) => roleOf(file) === role).map(({ file }) => ({ file, start: startOf(file) }));
  return { kick: of('kick'), bass: of('bass'), rest: of('rest') };
}

function filesBeside(
  stems: readonly OpenStem[],
  roleOf: (file: string) => Role,
  song_Hz: number,
): readonly BesideFile[] {
  return stems.flatMap(({ file, facts: { frameCount, sampleRate_Hz } }): BesideFile[] => {
    const role = roleOf(file);
    if (role !== 'reference' && role !== 'mix') return [];
    return [{ file, role, frameCount: Math.ceil((frameCount * song_Hz) / sampleRate_Hz) }];
  });
}
