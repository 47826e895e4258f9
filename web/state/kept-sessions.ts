import { openDB, type IDBPDatabase } from 'idb';
import { readSession, writeSession } from '../../core/session/session-file.js';
import type { Session } from '../../core/session/session-format.js';

/** A song that was opened here before. */
export interface KeptSong {
  readonly name: string;
  readonly saved_ms: number;
  /** The session file's own text. */
  readonly text: string;
  /** The folder, where the browser let it be kept; null for dropped files and the demo. */
  readonly handle: FileSystemDirectoryHandle | null;
  readonly isDemo: boolean;
}

const DATABASE = 'keelson';
const SONGS = 'songs';

/** Sessions in this browser, by the song's name. */
export class KeptSessions {
  private database: Promise<IDBPDatabase> | null = null;

  /** The latest first. */
  async list(): Promise<KeptSong[]> {
    const songs = (await (await this.open()).getAll(SONGS)) as KeptSong[];
    return songs.sort((a, b) => b.saved_ms - a.saved_ms);
  }

  async sessionOf(name: string): Promise<Session | null> {
    const kept = (await (await this.open()).get(SONGS, name)) as KeptSong | undefined;
    return kept === undefined ? null : readSession(kept.text);
  }

  async keep(song: Omit<KeptSong, 'text'>, session: Session): Promise<void> {
    await (await this.open()).put(SONGS, { ...song, text: writeSession(session) } satisfies KeptSong);
  }

  private open(): Promise<IDBPDatabase> {
    this.database ??= openDB(DATABASE, 1, {
      upgrade: (database) => {
        database.createObjectStore(SONGS, { keyPath: 'name' });
      },
    });
    return this.database;
  }
}
