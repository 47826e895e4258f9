import type { Session } from '../../core/session/session-format.js';
import type { Role } from '../../core/song/song.js';
import type { InspectTold } from '../../protocol/inspect-told.js';
import type { SongSource } from '../../protocol/job-messages.js';
import type { SoundingSong } from '../../protocol/sound-request.js';
import { sourceOfHandle } from '../files/source-of-handle.js';
import type { KeptSong } from './kept-sessions.js';
import { placeOfChosen, songOf, withTold } from './song-so-far.js';
import { stillRefused } from './still-refused.js';
import type { WorkbenchGround } from './workbench-ground.js';
import { noSong } from './workbench-state.js';
import { JobTrouble, workOf } from './worker-client.js';

/** Opens a song, measures it, lets it sound, and puts it away. */
export class OpenSong {
  constructor(private readonly ground: WorkbenchGround) {}

  /** Opens a song, measures it, and takes up what was decided of it before. */
  readonly open = async (source: SongSource): Promise<void> => {
    const { store, keeper, client } = this.ground;
    keeper.close();
    this.ground.stopThreads();
    store.set({ ...noSong(), source, work: workOf('list', 'opening') });
    await this.ground.attempt('stems', async () => {
      const listed = await client.ask('list', { source });
      const history = await keeper.open(source, listed);
      return () => {
        store.set({ listed, history });
        void this.sounds(listed.source, history.session);
        return this.measure();
      };
    });
  };

  /** Measures the song with the roles as they are now; what is measured with others is ended. */
  async measure(): Promise<void> {
    const { store, client } = this.ground;
    const { history, roles, listed, work } = store.read();
    const isAnew = work?.task === 'inspect';
    if (isAnew) client.stop();
    store.set({ soFar: null, song: null, solved: null, printed: null, work: workOf('inspect', 'opening') });
    await this.ground.attempt('stems', async () => {
      const said = [...roles].map(([file, role]) => ({ file, role }));
      if (isAnew && listed !== null) await client.ask('list', { source: listed.source });
      const question = { session: history.session, roles: said };
      const { stems, monoStems_dB } = await client.ask('inspect', question, (told) => this.hear(told));
      return () => {
        this.ground.amend({ stems, monoStems_dB });
        store.set({ roles: new Map(), work: null });
      };
    });
  }

  /** Another role for a file; the song is measured again with it. */
  async giveRole(file: string, role: Role): Promise<void> {
    const { store } = this.ground;
    if (!this.ground.mayEdit()) return;
    store.set({ roles: new Map(store.read().roles).set(file, role) });
    const { song, work, trouble } = store.read();
    if (song !== null || work?.task === 'inspect' || trouble !== null) await this.measure();
  }

  /** How loud mono stems stand in both channels; the song is measured again with it. */
  async standMono(monoStems_dB: number): Promise<void> {
    if (!this.ground.mayEdit()) return;
    this.ground.amend({ monoStems_dB });
    await this.measure();
  }

  /** Puts the song away; its session is kept. */
  close(): void {
    this.ground.keeper.close();
    this.ground.stopThreads();
    this.ground.store.set(noSong());
  }

  /** Opens the same song anew after trouble; a folder that the browser has taken back is asked for again. */
  readonly openAgain = async (): Promise<void> => {
    const { store } = this.ground;
    const { source, sheet } = store.read();
    const again = source?.kind === 'folder' ? await sourceOfHandle(source.handle) : source;
    if (again !== null) await this.open(again);
    else store.set({ trouble: { sheet, trouble: stillRefused(source!) } });
  };

  readonly recentSongs = (): Promise<readonly KeptSong[]> => this.ground.keeper.kept.list();

  /** The song is edited here from now on; the tab that did so has saved and reads. */
  readonly takeOver = (): void => void this.ground.keeper.takeOver();

  /** Ends what is under way. Of solving the best so far is kept; after anything else the song is opened again, decisions stay. */
  async stop(): Promise<void> {
    const { store, client } = this.ground;
    const { source, listed, work } = store.read();
    if (work?.task === 'solve') {
      store.set({ work: workOf('solve', 'stopping: the best so far is measured') });
      await client.ask('stop', null);
      return;
    }
    if (work?.task === 'list' || work?.task === 'inspect') {
      this.close();
      return;
    }
    client.stop();
    this.ground.turnPage();
    if (source !== null && work !== null) await this.reopen(listed?.source ?? source);
  }

  private async reopen(source: SongSource): Promise<void> {
    const { store, client } = this.ground;
    const { history, sheet } = store.read();
    store.set({ work: workOf('list', 'opening the song again') });
    await this.ground.attempt(sheet, async () => {
      await client.ask('list', { source });
      await client.ask('inspect', { session: history.session, roles: [] });
      return () => store.set({ work: null });
    });
  }

  /** Takes up what was found while the song is measured; the chosen finding stays chosen wherever it comes to stand. */
  private hear(told: InspectTold): void {
    const { store } = this.ground;
    const { soFar: before, chosenFinding, sheet } = store.read();
    const soFar = withTold(before, told);
    if (soFar === null) return;
    // until somebody looks at the findings, the dearest is the chosen one
    const known = sheet === 'findings' ? (before?.faults.findings ?? []) : [];
    const chosen = placeOfChosen(known, chosenFinding, soFar.faults.findings);
    store.set({ soFar, song: songOf(soFar), chosenFinding: chosen });
    if (told.what !== 'opened' || told.song.sounding === null) return;
    const { sounding } = told.song;
    void this.ground.attempt('stems', () => this.correctSounding(sounding));
  }

  private async correctSounding(sounding: SoundingSong): Promise<() => void> {
    await this.ground.player.ask('correct', sounding);
    return () => this.takeSounding(sounding);
  }

  /** The song can be heard as soon as its files are listed, with the roles that are known by then. */
  private async sounds(source: SongSource, session: Session): Promise<void> {
    const { store, player } = this.ground;
    const isSameSong = this.ground.sameSong();
    const roles = session.stems.map(({ path, role }) => ({ file: path, role }));
    try {
      const sounding = await player.ask('open', { source, roles, monoStems_dB: session.monoStems_dB });
      if (isSameSong() && store.read().soFar === null) this.takeSounding(sounding);
    } catch (error) {
      if (!(error instanceof JobTrouble)) throw error;
      const { trouble } = store.read();
      if (isSameSong() && trouble === null) store.set({ trouble: { sheet: 'stems', trouble: error.trouble } });
    }
  }

  /** The same sound stays the same object: what plays goes on. */
  private takeSounding(sounding: SoundingSong): void {
    const { store } = this.ground;
    if (JSON.stringify(sounding) !== JSON.stringify(store.read().sounding)) store.set({ sounding });
  }
}
