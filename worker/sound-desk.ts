import type { AudioReader } from '../core/audio-file/audio-reader.js';
import { openStems, type OpenStem } from '../core/job/open-stems.js';
import type { ChainBlock } from '../core/treatment/treatment-chain.js';
import { isMono, type StereoSignal } from '../core/signal/stereo-signal.js';
import { dB_to_amplitude } from '../core/units/decibels.js';
import { PlainError } from '../core/units/plain-error.js';
import { compressedDecoders } from '../decoders/compressed-decoders.js';
import { REST_BED, type BedFile, type SoundingSong, type SoundTasks } from '../protocol/sound-request.js';
import { ConformedFrames, type PlaceInSong } from './conformed-frames.js';
import { namedAtOnce } from './named-at-once.js';
import { OneAtATime } from './one-at-a-time.js';
import { songFolderOf } from './song-folder-of.js';
import { namedSoundingSong } from './sounding-song.js';

type Answer<Task extends keyof SoundTasks> = Promise<SoundTasks[Task]['answer']>;
type Ask<Task extends keyof SoundTasks> = SoundTasks[Task]['ask'];

/** Cuts frames of one song straight out of its files, so that it can be heard before it is measured and while it is worked on. */
export class SoundDesk {
  private readers = new Map<string, AudioReader>();
  private song: SoundingSong | null = null;
  private readonly frames = new Map<string, ConformedFrames>();

  /** @throws PlainError where nothing in the folder can be heard. */
  async open({ source, roles, monoStems_dB }: Ask<'open'>): Answer<'open'> {
    const folder = await songFolderOf(source);
    const { stems } = await openStems({ folder, decoders: compressedDecoders });
    this.readers = new Map(stems.map((stem) => [stem.file, readerOf(stem)]));
    const song = namedSoundingSong(folder.name, stems, namedAtOnce(stems, roles), monoStems_dB);
    if (song === null) throw new PlainError(folder.name, 'It holds no stem that is summed.', 'Say which file is what.');
    this.take(song);
    return song;
  }

  async correct(song: Ask<'correct'>): Answer<'correct'> {
    this.take(song);
    return null;
  }

  /** @throws PlainError where a file cannot be read any more. */
  async sound({ from, to, files }: Ask<'sound'>): Answer<'sound'> {
    const { song } = this;
    if (song === null) throw new PlainError('The song', 'It is not open.', 'Open it again.');
    const blocks = (names: readonly string[]) =>
      Promise.all(
        names.map(async (file) =>
          blockOf(await (file === REST_BED ? this.bed(song.bed, from, to) : this.framesOf(song, file).read(from, to))),
        ),
      );
    const [kick, bass, rest] = await Promise.all([blocks(files.kick), blocks(files.bass), blocks(files.rest)]);
    return { kick, bass, rest };
  }

  private take(song: SoundingSong): void {
    this.song = song;
    this.frames.clear();
  }

  /** The sum as the song keeps it: Float32, file after file. */
  private async bed(files: readonly BedFile[], from: number, to: number): Promise<StereoSignal> {
    const song = this.song!;
    const left = new Float32Array(to - from);
    const right = new Float32Array(to - from);
    for (const { file, sign } of files) {
      const part = await this.framesOf(song, file).read(from, to);
      for (let n = 0; n < left.length; n++) {
        left[n]! += sign * part.left[n]!;
        right[n]! += sign * part.right[n]!;
      }
    }
    return { left, right, sampleRate_Hz: song.sampleRate_Hz };
  }

  private framesOf(song: SoundingSong, file: string): ConformedFrames {
    const kept = this.frames.get(file);
    if (kept !== undefined) return kept;
    const reader = this.readers.get(file);
    if (reader === undefined) {
      throw new PlainError(file, 'It is to be heard, but its sound is not at hand.', 'Open the song again.');
    }
    const frames = new ConformedFrames(reader, placeOf(song, reader));
    this.frames.set(file, frames);
    return frames;
  }
}

/** Where a file stands in the song; one that is no part of it stands at its beginning, as it is. */
function placeOf(
  { sampleRate_Hz, frameCount, files, bed, monoStems_dB }: SoundingSong,
  { facts }: AudioReader,
): PlaceInSong {
  const inSong = [...files.kick, ...files.bass, ...files.rest, ...bed].find(({ file }) => file === facts.name);
  if (inSong === undefined) return { sampleRate_Hz, frameCount: Infinity, start: 0, gain: 1 };
  const gain = facts.channels === 1 ? dB_to_amplitude(monoStems_dB) : 1;
  return { sampleRate_Hz, frameCount, start: inSong.start, gain };
}

/** What is stored sample by sample can be read anywhere at once; what is compressed is decoded from where it is asked for. */
function readerOf({ reader }: OpenStem): AudioReader {
  return reader.facts.container === 'flac' ? new OneAtATime(reader) : reader;
}

function blockOf(signal: StereoSignal): ChainBlock {
  return { left: signal.left, right: isMono(signal) ? signal.left : signal.right };
}
