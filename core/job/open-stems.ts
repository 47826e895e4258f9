import { openAudioFile } from '../audio-file/open-audio-file.js';
import type { AudioFileFacts, AudioReader } from '../audio-file/audio-reader.js';
import type { ByteSource } from '../audio-file/byte-source.js';
import { PlainError } from '../units/plain-error.js';
import type { JobHost } from './job-host.js';

/** A file of the folder that can be read as a stem. */
export interface OpenStem {
  readonly file: string;
  readonly source: ByteSource;
  readonly reader: AudioReader;
  readonly facts: AudioFileFacts;
}

/** A sound file that cannot be read, and why, in the words of the error. */
export interface UnreadableStem {
  readonly file: string;
  readonly error: PlainError;
}

type FolderHost = Pick<JobHost, 'folder' | 'decoders' | 'progress'>;

export interface FolderSounds {
  readonly stems: readonly OpenStem[];
  readonly unreadable: readonly UnreadableStem[];
  /** Files that are no stems: notes, pictures. */
  readonly leftAlone: readonly string[];
}

const SOUND_NAME = /\.(wav|wave|bwf|rf64|bw64|aif|aiff|aifc|flac)$/i;
/** Names that speak of sound that cannot be a stem here. */
const OTHER_SOUND_NAME = /\.(mp3|m4a|aac|ogg|opus|wma|caf|w64|au|snd)$/i;
const HIDDEN_NAME = /^\.|\.(crswap|tmp)$/i;
export const SESSION_FILE = 'keelson.json';

/**
 * Opens every sound file of the folder itself (not of its subfolders).
 * @throws PlainError where the folder holds no sound at all.
 */
export async function openStems(host: FolderHost): Promise<FolderSounds> {
  const entries = (await host.folder.list()).filter(({ name, kind }) => kind !== 'folder' && !HIDDEN_NAME.test(name));
  const names = entries.map(({ name }) => name);
  const sounds = names.filter((name) => SOUND_NAME.test(name));
  if (sounds.length === 0) throw noSound(host.folder.name, names);
  const stems: OpenStem[] = [];
  const unreadable: UnreadableStem[] = [];
  for (const [index, file] of sounds.entries()) {
    host.progress?.('opening', index, sounds.length);
    const opened = await openOne(host, file);
    if ('error' in opened) unreadable.push(opened);
    else stems.push(opened);
  }
  if (stems.length === 0) throw unreadable[0]!.error;
  const leftAlone = names.filter((name) => !SOUND_NAME.test(name) && name !== SESSION_FILE);
  return { stems, unreadable, leftAlone };
}

async function openOne(host: FolderHost, file: string): Promise<OpenStem | UnreadableStem> {
  try {
    const source = await host.folder.open(file);
    const reader = await openAudioFile(file, source, host.decoders);
    return { file, source, reader, facts: reader.facts };
  } catch (error) {
    if (error instanceof PlainError) return { file, error };
    throw error;
  }
}

function noSound(folder: string, names: readonly string[]): PlainError {
  const others = names.filter((name) => OTHER_SOUND_NAME.test(name));
  return new PlainError(
    folder,
    others.length > 0
      ? `It holds no stem that can be treated: ${others.slice(0, 3).join(', ')} ${others.length === 1 ? 'is' : 'are'} in a format that stems are not kept in.`
      : 'It holds no sound files.',
    'Put the stems of one song into it, as WAV, AIFF or FLAC.',
  );
}
