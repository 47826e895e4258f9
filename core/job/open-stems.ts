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
  /** Made while the sound is read. */
  readonly sha256: Promise<string>;
}

/** A sound file that cannot be read, and why, in the words of the error. */
export interface UnreadableStem {
  readonly file: string;
  readonly sha256: string | null;
  readonly error: PlainError;
}

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
 * Opens every sound file of the folder itself (not of its subfolders). Their fingerprints are made one after the other, beside
 * whatever is done next.
 * @throws PlainError where the folder holds no sound at all.
 */
export async function openStems(host: JobHost): Promise<FolderSounds> {
  const entries = (await host.folder.list()).filter(({ name, kind }) => kind !== 'folder' && !HIDDEN_NAME.test(name));
  const names = entries.map(({ name }) => name);
  const sounds = names.filter((name) => SOUND_NAME.test(name));
  if (sounds.length === 0) throw noSound(host.folder.name, names);
  const stems: OpenStem[] = [];
  const unreadable: UnreadableStem[] = [];
  const fingerprints = new OneAtATime();
  for (const [index, file] of sounds.entries()) {
    host.progress?.('opening', index, sounds.length);
    const opened = await openOne(host, file, fingerprints);
    if ('error' in opened) unreadable.push(opened);
    else stems.push(opened);
  }
  if (stems.length === 0) throw unreadable[0]!.error;
  const leftAlone = names.filter((name) => !SOUND_NAME.test(name) && name !== SESSION_FILE);
  return { stems, unreadable, leftAlone };
}

async function openOne(host: JobHost, file: string, fingerprints: OneAtATime): Promise<OpenStem | UnreadableStem> {
  let sha256: Promise<string> | null = null;
  try {
    const source = await host.folder.open(file);
    sha256 = fingerprints.next(() => host.fingerprint(source));
    const reader = await openAudioFile(file, source, host.decoders);
    return { file, source, reader, facts: reader.facts, sha256 };
  } catch (error) {
    if (error instanceof PlainError) return { file, sha256: await (sha256?.catch(() => null) ?? null), error };
    throw error;
  }
}

/** A fingerprint may need its file whole: never two at once. */
class OneAtATime {
  private last: Promise<unknown> = Promise.resolve();

  next<Result>(work: () => Promise<Result>): Promise<Result> {
    const result = this.last.then(work);
    this.last = result.catch(() => undefined); // what went wrong is told to who waits for it
    return result;
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
