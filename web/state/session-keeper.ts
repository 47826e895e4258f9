import { readSession, writeSession } from '../../core/session/session-file.js';
import type { Session } from '../../core/session/session-format.js';
import type { ListedSong, SongSource } from '../../protocol/job-messages.js';
import { Autosave } from './autosave.js';
import { KeptSessions, type KeptSong } from './kept-sessions.js';
import { refusalOf, type Keeping } from './keeping.js';
import type { SessionHistory } from './session-history.js';
import { newSongId, type MarkedSong } from './song-identity.js';
import { SongLock } from './song-lock.js';
import { takenUp } from './taken-up.js';

/** What the keeper needs of the page, and what it tells it. */
export interface KeeperPage {
  session(): Session;
  /** Writes the session beside the stems. */
  writeBeside(session: Session): Promise<unknown>;
  onSaved(saved_ms: number, keeping: Keeping): void;
  onReadsOnly(readsOnly: boolean): void;
  /** Another tab has changed the session. */
  onSession(session: Session): void;
}

type KeptFacts = Omit<KeptSong, 'text' | 'saved_ms'>;

/** Keeps the session of the open song: in the browser first, then beside the stems; one tab writes, others read. */
export class SessionKeeper {
  readonly kept = new KeptSessions();
  readonly autosave = new Autosave(() => this.save());
  private readonly lock: SongLock;
  private facts: KeptFacts | null = null;
  private readsOnly = false;
  private folder: Keeping['folder'] = 'none';

  constructor(private readonly page: KeeperPage) {
    this.lock = new SongLock({
      onHolds: (holds) => void this.turn(holds),
      onHandOver: () => this.autosave.now(),
      onSaved: () => void (this.readsOnly && this.follow()),
    });
    this.autosave.watchLeaving(document, window);
  }

  /** Takes up what was decided of the song before, and its lock. */
  async open(source: SongSource, listed: ListedSong): Promise<SessionHistory> {
    this.close();
    const marked = markedSong(listed);
    const found = await this.kept.find(marked).catch(() => null);
    // what a newer page kept stands as it is, and this one begins beside it
    const kept = found !== null && isReadable(found) ? found : null;
    const beside = listed.session === null ? null : writeSession(listed.session);
    this.facts = {
      ...{ ...marked, id: kept?.id ?? `${newSongId(marked)}${found === null ? '' : ' again'}`, beside },
      handle: source.kind === 'folder' ? source.handle : null,
      isDemo: source.kind === 'demo',
    };
    this.folder = listed.writable ? 'written' : 'none';
    this.readsOnly = !(await this.lock.hold(this.facts.id));
    this.page.onReadsOnly(this.readsOnly);
    return takenUp(kept, listed.session, beside);
  }

  changed(): void {
    if (this.facts !== null && !this.readsOnly) this.autosave.soon();
  }

  takeOver(): Promise<void> {
    return this.lock.takeOver();
  }

  /** What waits is saved, and the song let go. */
  close(): void {
    void this.autosave.now();
    this.lock.letGo();
    this.facts = null;
    this.readsOnly = false;
  }

  private async save(): Promise<void> {
    const { facts } = this;
    if (facts === null || this.readsOnly) return;
    const session = this.page.session();
    this.writeBeside(facts, session);
    const saved_ms = Date.now();
    let browser: Keeping['browser'] = 'kept';
    try {
      await this.kept.keep({ ...facts, saved_ms }, session);
      this.lock.tellSaved();
    } catch (error) {
      browser = refusalOf(error);
    }
    if (facts === this.facts) this.page.onSaved(saved_ms, { browser, folder: this.folder });
  }

  /** The worker may be at long work, so nothing waits for it. */
  private writeBeside(facts: KeptFacts, session: Session): void {
    if (this.folder === 'none') return;
    this.page.writeBeside(session).then(
      () => {
        if (facts !== this.facts) return;
        this.folder = 'written';
        this.facts = { ...facts, beside: writeSession(session) };
        void this.kept.wroteBeside(facts.id, this.facts.beside!).catch(() => undefined);
      },
      () => (this.folder = 'refused'),
    );
  }

  private async turn(holds: boolean): Promise<void> {
    this.readsOnly = !holds;
    if (!holds) this.autosave.drop();
    if (holds) await this.follow();
    this.page.onReadsOnly(!holds);
  }

  private async follow(): Promise<void> {
    const { facts } = this;
    if (facts === null) return;
    const kept = await this.kept.byId(facts.id).catch(() => null);
    if (kept === null || facts !== this.facts) return;
    this.facts = { ...facts, beside: kept.beside };
    this.page.onSession(readSession(kept.text));
  }
}

function markedSong({ name, stems }: ListedSong): MarkedSong {
  const marks = stems.map(({ file, size_bytes = 0, sketch = null }) => ({ file, size_bytes, sketch }));
  return { name, stems: marks };
}

function isReadable({ text }: KeptSong): boolean {
  try {
    return readSession(text).format !== undefined;
  } catch {
    return false;
  }
}
