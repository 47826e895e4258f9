import { emptySession, type Session } from '../session/session-format.js';
import { readSession, SESSION_FILE, writeSession } from '../session/session-file.js';
import { text_to_utf8, utf8_to_text } from '../session/utf8-text.js';
import type { JobHost } from './job-host.js';
import { NOT_CHOSEN } from './name-roles.js';
import type { OpenSong, SongOptions } from './open-song.js';

/** The session of the folder, or an empty one. @throws PlainError where the file is broken or of a newer program. */
export async function loadSession(host: JobHost): Promise<Session> {
  const size = await host.folder.sizeOf(SESSION_FILE);
  if (size === null) return emptySession();
  const source = await host.folder.open(SESSION_FILE);
  return readSession(utf8_to_text(await source.read(0, source.size)));
}

/** Writes the session beside and renames it over the old one; nothing is written where it is the same. */
export async function saveSession(host: JobHost, session: Session, before: Session): Promise<void> {
  const text = writeSession(session);
  if (text === writeSession(before) && (await host.folder.sizeOf(SESSION_FILE)) !== null) return;
  const sink = await host.folder.create(SESSION_FILE, 'replace');
  try {
    await sink.write(text_to_utf8(text));
    await sink.finish();
  } catch (error) {
    await sink.abandon();
    throw error;
  }
}

/**
 * The session with the roles that were found or said now. What was set aside is judged anew each time, and files that another
 * song of the folder holds (`--only`) keep what was said of them before.
 */
export async function withRoles(session: Session, song: OpenSong): Promise<Session> {
  const before = new Map(session.stems.map((stem) => [stem.path, stem]));
  const stems = song.files
    .filter(({ stem }) => !stem.faults.some(({ id }) => id === 'duplicate' || id === 'bus'))
    .map(async ({ stem, sha256 }) => {
      if (stem.because === NOT_CHOSEN) return before.get(stem.file) ?? [];
      return { path: stem.file, sha256: await sha256(), role: stem.role, because: stem.because };
    });
  return { ...session, stems: (await Promise.all(stems)).flat(), monoStems_dB: song.monoStems_dB };
}

/** What the session remembers for opening the song; what is said now goes before it. */
export function rememberedOptions(session: Session, said: SongOptions): SongOptions {
  return { monoStems_dB: session.monoStems_dB, ...said, remembered: rememberedRoles(session) };
}

function rememberedRoles(
  session: Session,
): { file: string; role: Session['stems'][number]['role']; because: string }[] {
  return session.stems.map(({ path, role, because }) => ({ file: path, role, because }));
}
