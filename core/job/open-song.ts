import { resampled } from '../dsp/resampler.js';
import type { LevelCourse } from '../measure/level-course.js';
import type { SongSound } from '../measure/song-sound.js';
import type { StemLows } from '../measure/stem-lows.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import type { AssignedRole } from '../song/assign-roles.js';
import { placed } from '../song/conform.js';
import type { SetAside } from '../song/set-aside.js';
import type { FileFault, Role, Stem } from '../song/song.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { Fingerprints } from './fingerprints.js';
import type { JobHost } from './job-host.js';
import { openStems, type FolderSounds, type OpenStem } from './open-stems.js';
import { readStem } from './read-stem.js';
import { nameRoles, type NamedRoles, type RoleOptions } from './name-roles.js';
import { clockOf, type SongClock } from './song-clock.js';
import { SongGatherer, type BedPart } from './song-gatherer.js';

export interface SongOptions extends RoleOptions {
  /** Gain of mono stems, which stand in both channels: 0 by default, or -3, -4.5, -6 as wished. */
  readonly monoStems_dB?: number;
}

/** A stem of the song with its file. */
export interface SongStem {
  readonly stem: Stem;
  readonly open: OpenStem;
  /** Fingerprint of the whole file, made when it is first asked for. @throws PlainError where the file was changed. */
  sha256(): Promise<string>;
  /** Where it begins, in samples of the song's rate. */
  readonly start: number;
}

/** The song as it came: its stems, its sound by roles, and what the engineer should know. */
export interface OpenSong {
  readonly name: string;
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  readonly monoStems_dB: number;
  /** Every sound file, also those set aside and those that cannot be read. */
  readonly stems: readonly Stem[];
  readonly files: readonly SongStem[];
  readonly sound: SongSound;
  /** What the bed of the rest is the sum of, in the order of its additions. */
  readonly bed: readonly BedPart[];
  readonly restLows: readonly StemLows[];
  /** How loud every file that was heard is through the song. */
  readonly levels: readonly LevelCourse[];
  readonly remarks: readonly string[];
}

/** Told the song as far as it is read, after the kick and after the bass. The next files are read when it is done. */
export type ReadListener = (read: 'kick' | 'bass', soFar: OpenSong) => void | Promise<void>;

/**
 * Opens the song of a folder: names the roles, conforms every stem to one rate, start and length, sets aside what would count
 * twice, and sums the roles. The kick is read first, then the bass; rest stems are summed to one bed as they are read and not kept.
 * @throws PlainError where nothing can be done: no sound, no role, two songs.
 */
export async function openSong(
  host: JobHost,
  options: SongOptions,
  listener: ReadListener = () => undefined,
): Promise<OpenSong> {
  const sounds = await openStems(host);
  const named = await nameRoles(host, sounds.stems, options);
  const clock = clockOf(sounds.stems.filter(({ file }) => isSummed(named.roleOf(file).role)));
  const files = sounds.stems.map(({ file }) => file);
  const gathered = new SongGatherer(host, clock, options.monoStems_dB ?? 0, files);
  const fingerprints = new Fingerprints(host.fingerprint);
  const asGathered = (): OpenSong => openedSong({ host, options, sounds, named, clock, gathered, fingerprints });
  let read = 0;
  for (const role of ['kick', 'bass', 'rest', 'mix'] as const) {
    for (const open of sounds.stems.filter(({ file }) => named.roleOf(file).role === role)) {
      host.progress?.('reading and conforming', read++, sounds.stems.length);
      await gathered.hear(open, role);
    }
    if (role === 'kick' || role === 'bass') await listener(role, asGathered());
  }
  await gathered.setAside();
  return asGathered();
}

interface Opening {
  readonly host: JobHost;
  readonly options: SongOptions;
  readonly sounds: FolderSounds;
  readonly named: NamedRoles;
  readonly clock: SongClock;
  readonly gathered: SongGatherer;
  readonly fingerprints: Fingerprints;
}

function openedSong({ host, options, sounds, named, clock, gathered, fingerprints }: Opening): OpenSong {
  const { aside } = gathered;
  const stem = (open: OpenStem): Stem =>
    stemOf(open, named.roleOf(open.file), clock, gathered.faultsOf(open.file), aside);
  return {
    name: host.folder.name,
    sampleRate_Hz: clock.sampleRate_Hz,
    frameCount: clock.frameCount,
    monoStems_dB: options.monoStems_dB ?? 0,
    stems: [...sounds.stems.map(stem), ...unreadableStems(sounds)],
    files: sounds.stems.map((open) => ({
      stem: stem(open),
      open,
      sha256: () => fingerprints.of(open.source),
      start: clock.startOf(open.file),
    })),
    sound: gathered.sound(),
    bed: gathered.bedParts,
    restLows: gathered.restLows(),
    levels: gathered.levels(),
    remarks: [
      ...named.remarks,
      ...clock.remarks,
      ...gathered.remarks(),
      ...monoQuestion(sounds, named, options),
      ...leftAloneRemark(sounds),
    ],
  };
}

/** The question about mono stems, as a remark: the page answers it in place, the command line names its option. */
export const MONO_QUESTION =
  'The kick is mono and the bass stereo: mono stems stand in both channels at 0 dB. Where your mixer lowers them (3, 4.5 or ' +
  '6 dB), say so once: it moves clearance.';

/** Raised once, while nothing was said: how loud mono stems stand in both channels moves clearance. */
function monoQuestion(sounds: FolderSounds, named: NamedRoles, options: SongOptions): string[] {
  const channelsOf = (role: Role): number[] =>
    sounds.stems.filter(({ file }) => named.roleOf(file).role === role).map(({ facts }) => facts.channels);
  const kickMono = channelsOf('kick').length > 0 && channelsOf('kick').every((channels) => channels === 1);
  if (options.monoStems_dB || (options.remembered?.length ?? 0) > 0) return [];
  if (!kickMono || !channelsOf('bass').includes(2)) return [];
  return [MONO_QUESTION];
}

/** Reads one file of the song again, conformed: rate, start, length, gain of mono stems. */
export async function conformedStem(
  open: OpenStem,
  start: number,
  song: { readonly sampleRate_Hz: number; readonly frameCount: number; readonly monoStems_dB: number },
): Promise<StereoSignal> {
  const signal = await readStem(open.reader);
  const gain = open.facts.channels === 1 ? dB_to_amplitude(song.monoStems_dB) : 1;
  return placed(resampled(signal, song.sampleRate_Hz), start, song.frameCount, gain);
}

export function isSummed(role: Role): role is 'kick' | 'bass' | 'rest' {
  return role === 'kick' || role === 'bass' || role === 'rest';
}

function stemOf(
  { file, facts }: OpenStem,
  assigned: AssignedRole,
  clock: SongClock,
  faults: readonly FileFault[],
  setAside: readonly SetAside[],
): Stem {
  const aside = setAside.find((entry) => entry.file === file);
  return {
    file,
    role: aside === undefined ? assigned.role : 'aside',
    because: aside === undefined ? assigned.because : aside.because,
    confidence: assigned.confidence,
    channels: facts.channels,
    bitDepth: facts.bitDepth,
    sampleRate_Hz: facts.sampleRate_Hz,
    frameCount: facts.frameCount,
    duration_s: facts.duration_s,
    start_samples: clock.startInFile(file),
    faults: [...faults, ...(aside === undefined ? [] : [asideFault(aside)])],
  };
}

function asideFault(aside: SetAside): FileFault {
  return { id: aside.kind === 'duplicate' ? 'duplicate' : 'bus', sentence: `Set aside: ${aside.because}.` };
}

function unreadableStems({ unreadable }: FolderSounds): Stem[] {
  return unreadable.map(({ file, error }) => ({
    file,
    role: 'aside',
    because: 'it cannot be read',
    confidence: 1,
    channels: 0,
    bitDepth: '',
    sampleRate_Hz: 0,
    frameCount: 0,
    duration_s: 0,
    start_samples: 0,
    faults: [{ id: 'unreadable', sentence: `Left out: ${error.reason} ${error.remedy}` }],
  }));
}

function leftAloneRemark({ leftAlone }: FolderSounds): string[] {
  if (leftAlone.length === 0) return [];
  const names = leftAlone.slice(0, 3).join(', ');
  const more = leftAlone.length > 3 ? ` and ${leftAlone.length - 3} more` : '';
  return [`Left alone, no stems: ${names}${more}.`];
}
