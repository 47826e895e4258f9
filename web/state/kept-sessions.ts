import { openDB, type IDBPDatabase } from 'idb';
import { writeSession } from '../../core/session/session-file.js';
import type { Session } from '../../core/session/session-format.js';
import { keptAs, type MarkedSong, type StemMark } from './song-identity.js';

/** A song that was opened here before. */
export interface KeptSong {
  readonly id: string;
  readonly name: string;
  readonly stems: readonly StemMark[];
  readonly saved_ms: number;
  /** The session file's own text. */
  readonly text: string;
  /** The text of the session file that lay beside the stems when this one was begun or last written there; null for none. */
  readonly beside: string | null;
  /** The folder, where the browser let it be kept; null for dropped files and the demo. */
  readonly handle: FileSystemDirectoryHandle | null;
  readonly isDemo: boolean;
}

const DATABASE = 'keelson';
const SESSIONS = 'sessions';

/** Sessions in this browser, by the song. A write is whole or not at all: what was there before stands until it is done. */
export class KeptSessions {
  private database: Promise<IDBPDatabase> | null = null;

  /** The latest first. */
  async list(): Promise<KeptSong[]> {
    const songs = (await (await this.open()).getAll(SESSIONS)) as KeptSong[];
    return songs.sort((a, b) => b.saved_ms - a.saved_ms);
  }

  async find(song: MarkedSong): Promise<KeptSong | null> {
    return keptAs(song, await this.list());
  }

  async byId(id: string): Promise<KeptSong | null> {
    return ((await (await this.open()).get(SESSIONS, id)) as KeptSong | undefined) ?? null;
  }

  /** @throws DOMException `QuotaExceededError` where the storage is full, others where it is closed to the page. */
  async keep(song: Omit<KeptSong, 'text'>, session: Session): Promise<void> {
    const write = (await this.open()).transaction(SESSIONS, 'readwrite', { durability: 'strict' });
    await Promise.all([write.store.put({ ...song, text: writeSession(session) } satisfies KeptSong), write.done]);
  }

  /** Remembers what was written beside the stems. */
  async wroteBeside(id: string, beside: string): Promise<void> {
    const write = (await this.open()).transaction(SESSIONS, 'readwrite');
    const kept = (await write.store.get(id)) as KeptSong | undefined;
    if (kept !== undefined) await write.store.put({ ...kept, beside });
    await write.done;
  }

  private open(): Promise<IDBPDatabase> {
    this.database ??= openDB(DATABASE, 2, {
      upgrade: (database) => {
        for (const name of [...database.objectStoreNames]) database.deleteObjectStore(name);
        database.createObjectStore(SESSIONS, { keyPath: 'id' });
      },
      // a tab with a newer page may change the database; this one opens it again when it needs it
      blocking: (_current, _wanted, event) => {
        (event.target as IDBDatabase).close();
        this.database = null;
      },
    });
    this.database.catch(() => (this.database = null));
    return this.database;
  }
}
