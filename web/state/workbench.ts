import type { PrintChoices } from '../../core/job/print-song.js';
import type { LevelMatch } from '../../core/measure/level-match.js';
import { compareMeasurements, type ProofRow } from '../../core/proof/compare-measurements.js';
import type { BlindCompareRecord, Revision, Session } from '../../core/session/session-format.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import type { Unmeasurable } from '../../core/units/reading.js';
import type { HeardPart } from '../../protocol/heard-part.js';
import type { Role } from '../../core/song/song.js';
import type { InspectTold } from '../../protocol/inspect-told.js';
import type { ReferenceLoudness, SolvedSong, SongSource } from '../../protocol/job-messages.js';
import type { SoundAnswer, SoundingSong, SoundRequest } from '../../protocol/sound-request.js';
import { jobClient } from './job-client.js';
import type { KeptSong } from './kept-sessions.js';
import { SessionKeeper } from './session-keeper.js';
import { sourceOfHandle } from '../files/source-of-handle.js';
import { orderEdit, switchEdit, treatAllEdit, type SessionEdit } from './session-edits.js';
import { newHistory, redone, undone, withStep, type SessionHistory } from './session-history.js';
import { soundClient } from './sound-client.js';
import { StateStore } from './state-store.js';
import { decisionsText, isUnsolved, noSong, type Raised, type Sheet, type WorkbenchState } from './workbench-state.js';
import { placeOfChosen, songOf, withTold } from './song-so-far.js';
import { stillRefused } from './still-refused.js';
import { JobTrouble, workOf } from './worker-client.js';
import { broughtBack, revisionOf, withRevision } from '../versions/revision-of.js';

/** The page's one state and everything that can be done to it. */
export class Workbench {
  readonly store = new StateStore<WorkbenchState>(noSong());
  private readonly client = jobClient((work) => this.store.set({ work }));
  private readonly player = soundClient();
  private readonly keeper = new SessionKeeper({
    session: () => this.store.read().history.session,
    writeBeside: (session) => this.client.ask('save', { session }),
    onSaved: (saved_ms, keeping) => this.store.set({ saved_ms, keeping }),
    onReadsOnly: (readsOnly) => this.store.set({ readsOnly }),
    onSession: (session) => this.store.set({ history: newHistory(session) }),
  });
  /** Answers to what was asked before another song came are let fall. */
  private round = 0;

  /** Opens a song, measures it, and takes up what was decided of it before. */
  async open(source: SongSource): Promise<void> {
    this.keeper.close();
    this.stopThreads();
    this.store.set({ ...noSong(), source, work: workOf('list', 'opening') });
    await this.attempt('stems', async () => {
      const listed = await this.client.ask('list', { source });
      const history = await this.keeper.open(source, listed);
      return () => {
        this.store.set({ listed, history });
        void this.sounds(listed.source, history.session);
        return this.measure();
      };
    });
  }

  /** Measures the song with the roles as they are now; what is measured with others is ended. */
  async measure(): Promise<void> {
    const { history, roles, listed, work } = this.store.read();
    const isAnew = work?.task === 'inspect';
    if (isAnew) this.client.stop();
    this.store.set({ soFar: null, song: null, solved: null, printed: null, work: workOf('inspect', 'opening') });
    await this.attempt('stems', async () => {
      const said = [...roles].map(([file, role]) => ({ file, role }));
      if (isAnew && listed !== null) await this.client.ask('list', { source: listed.source });
      const { stems, monoStems_dB } = await this.client.ask(
        'inspect',
        { session: history.session, roles: said },
        (told) => this.hear(told),
      );
      return () => {
        const now = this.store.read().history;
        this.setHistory({ ...now, session: { ...now.session, stems, monoStems_dB } });
        this.store.set({ roles: new Map(), work: null });
      };
    });
  }

  /** Takes up what was found while the song is measured; the chosen finding stays chosen wherever it comes to stand. */
  private hear(told: InspectTold): void {
    const { soFar: before, chosenFinding, sheet } = this.store.read();
    const soFar = withTold(before, told);
    if (soFar === null) return;
    // until somebody looks at the findings, the dearest is the chosen one
    const known = sheet === 'findings' ? (before?.faults.findings ?? []) : [];
    const chosen = placeOfChosen(known, chosenFinding, soFar.faults.findings);
    this.store.set({ soFar, song: songOf(soFar), chosenFinding: chosen });
    if (told.what === 'opened') void this.attempt('stems', () => this.correctSounding(told.song.sounding));
  }

  private async correctSounding(sounding: SoundingSong): Promise<() => void> {
    await this.player.ask('correct', sounding);
    return () => this.takeSounding(sounding);
  }

  /** Another role for a file; the song is measured again with it. */
  async giveRole(file: string, role: Role): Promise<void> {
    if (!this.mayEdit()) return;
    this.store.set({ roles: new Map(this.store.read().roles).set(file, role) });
    const { song, work, trouble } = this.store.read();
    if (song !== null || work?.task === 'inspect' || trouble !== null) await this.measure();
  }

  /** How loud mono stems stand in both channels; the song is measured again with it. */
  async standMono(monoStems_dB: number): Promise<void> {
    if (!this.mayEdit()) return;
    const { history } = this.store.read();
    this.setHistory({ ...history, session: { ...history.session, monoStems_dB } });
    await this.measure();
  }

  edit(edit: SessionEdit): void {
    if (!this.mayEdit()) return;
    const { history } = this.store.read();
    this.setHistory(withStep(history, edit.name, edit.apply(history.session)));
  }

  undo(): void {
    if (!this.mayEdit()) return;
    this.setHistory(undone(this.store.read().history));
  }

  redo(): void {
    if (!this.mayEdit()) return;
    this.setHistory(redone(this.store.read().history));
  }

  async solve(): Promise<void> {
    if (!this.mayEdit()) return;
    const { history } = this.store.read();
    const solvedFor = decisionsText(history);
    this.store.set({ work: workOf('solve', 'solving') });
    await this.attempt('path', async () => {
      const solved = await this.client.ask('solve', { session: history.session });
      return () => {
        this.store.set({ solved, solvedFor, work: null });
        const { session } = this.store.read().history;
        this.setHistory({
          ...this.store.read().history,
          session: { ...session, treatment: solved?.solution.treatment ?? null },
        });
      };
    });
  }

  async print(choices: PrintChoices): Promise<void> {
    if (!this.mayEdit()) return;
    const { history } = this.store.read();
    this.store.set({ sheet: 'proof', raised: null, work: workOf('print', 'printing') });
    await this.attempt('proof', async () => {
      const printed = await this.client.ask('print', { session: history.session, choices });
      return () => {
        this.store.set({ printed, work: null });
        const { printing, versions, proofs } = printed.session;
        const now = this.store.read().history;
        const { version } = printed.printed;
        this.setHistory({ ...now, session: { ...now.session, printing, versions, proofs } });
        this.addRevision('printed', version, printed.proof.rows);
      };
    });
  }

  /** Ends what is under way. Of solving the best so far is kept; after anything else the song is opened again, decisions stay. */
  async stop(): Promise<void> {
    const { source, listed, work } = this.store.read();
    if (work?.task === 'solve') {
      this.store.set({ work: workOf('solve', 'stopping: the best so far is measured') });
      await this.client.ask('stop', null);
      return;
    }
    if (work?.task === 'list' || work?.task === 'inspect') {
      this.close();
      return;
    }
    this.client.stop();
    this.round += 1;
    if (source !== null && work !== null) await this.reopen(listed?.source ?? source);
  }

  /** Frames of the song, for the audio thread. */
  readonly sound = (request: SoundRequest): Promise<SoundAnswer> => this.player.ask('sound', request);

  /** The match of a part under a treatment. */
  readonly match = (treatment: Treatment, part: HeardPart): Promise<LevelMatch | Unmeasurable> =>
    this.client.ask('match', { treatment, part });

  readonly loudness = (reference: string): Promise<ReferenceLoudness> => this.client.ask('loudness', { reference });

  /** A blind compare that was begun stays in the session, however it ended: it is a fact, and no step that is taken back. */
  keepCompare(record: BlindCompareRecord): void {
    const { history, song, readsOnly } = this.store.read();
    if (song === null || readsOnly) return;
    const { session } = history;
    this.setHistory({ ...history, session: { ...session, blindCompares: [...session.blindCompares, record] } });
  }

  show(sheet: Sheet): void {
    this.store.set({ sheet, raised: null });
  }

  /** Something rises over the sheet, or goes; it needs no song. */
  raise(raised: Raised | null): void {
    this.store.set({ raised });
  }

  choose(chosenFinding: number): void {
    this.store.set({ chosenFinding });
  }

  /** Puts the song away; its session is kept. */
  close(): void {
    this.keeper.close();
    this.stopThreads();
    this.store.set(noSong());
  }

  /** The state as it stands, under a name. */
  nameVersion(name: string): void {
    const { song } = this.store.read();
    if (song === null || !this.mayEdit()) return;
    this.addRevision(name, null, this.rowsNow());
  }

  /** Back to a version, as one step that can be taken back. */
  bringBack(revision: Revision, mark: string): void {
    const { song } = this.store.read();
    if (song === null) return;
    const name = `go back to ${mark}, ${revision.name}`;
    this.edit({ name, apply: (session) => broughtBack(session, revision, song.untreated) });
  }

  /** A version is heard in place of the state as it stands; null: that state again. */
  readonly audition = (auditioned: WorkbenchState['auditioned']): void => this.store.set({ auditioned });

  treatAll(): void {
    const { song } = this.store.read();
    if (song !== null) this.edit(treatAllEdit(song.faults.findings.map(({ id }) => id)));
  }

  /** A stage switched by hand in what was solved. */
  switchStage(address: string, on: boolean): void {
    this.edit(switchEdit(this.treatment, address, on));
  }

  orderStages(addresses: readonly string[]): void {
    this.edit(orderEdit(this.treatment, addresses));
  }

  /** Opens the same song anew after trouble; a folder that the browser has taken back is asked for again. */
  readonly openAgain = async (): Promise<void> => {
    const { source, sheet } = this.store.read();
    const again = source?.kind === 'folder' ? await sourceOfHandle(source.handle) : source;
    if (again !== null) await this.open(again);
    else this.store.set({ trouble: { sheet, trouble: stillRefused(source!) } });
  };

  readonly openFrom = (source: SongSource): void => void this.open(source);
  readonly recentSongs = (): Promise<readonly KeptSong[]> => this.keeper.kept.list();

  /** The song is edited here from now on; the tab that did so has saved and reads. */
  readonly takeOver = (): void => void this.keeper.takeOver();

  private mayEdit(): boolean {
    const { readsOnly, refusedEdits } = this.store.read();
    if (readsOnly) this.store.set({ refusedEdits: refusedEdits + 1 });
    return !readsOnly;
  }

  private stopThreads(): void {
    this.client.stop();
    this.player.stop();
    this.round += 1;
  }

  /** The song can be heard as soon as its files are listed, with the roles that are known by then. */
  private async sounds(source: SongSource, session: Session): Promise<void> {
    const { round } = this;
    const roles = session.stems.map(({ path, role }) => ({ file: path, role }));
    try {
      const sounding = await this.player.ask('open', { source, roles, monoStems_dB: session.monoStems_dB });
      if (round === this.round && this.store.read().soFar === null) this.takeSounding(sounding);
    } catch (error) {
      if (!(error instanceof JobTrouble)) throw error;
      const { trouble } = this.store.read();
      if (round === this.round && trouble === null)
        this.store.set({ trouble: { sheet: 'stems', trouble: error.trouble } });
    }
  }

  /** The same sound stays the same object: what plays goes on. */
  private takeSounding(sounding: SoundingSong): void {
    if (JSON.stringify(sounding) !== JSON.stringify(this.store.read().sounding)) this.store.set({ sounding });
  }

  private get treatment(): Treatment {
    const { song, history } = this.store.read();
    return history.session.treatment ?? song!.untreated;
  }

  /** What was solved, where it is what stands. */
  private get solvedNow(): SolvedSong | null {
    const { solved, history } = this.store.read();
    return solved !== null && history.session.treatment === solved.solution.treatment ? solved : null;
  }

  /** Figures of the state as it stands; null where it is not solved. */
  readonly rowsNow = (): readonly ProofRow[] | null => {
    const state = this.store.read();
    const { song, history } = state;
    if (song === null || isUnsolved(state)) return null;
    if (history.session.treatment === null) return compareMeasurements(song.measured, song.measured);
    return this.solvedNow?.solution.rows ?? null;
  };

  /** Gain that makes the state as it stands as loud as the source; null where it is not known. */
  readonly matchNow_dB = (): number | null =>
    this.store.read().history.session.treatment === null ? 0 : matched_dB(this.solvedNow);

  private addRevision(name: string, print: string | null, rows: readonly ProofRow[] | null): void {
    const { history } = this.store.read();
    const { session } = history;
    const at = new Date().toISOString();
    const revision = revisionOf({ session, name, at, print, rows, match_dB: this.matchNow_dB() });
    this.setHistory({ ...history, session: withRevision(session, revision) });
  }

  private async reopen(source: SongSource): Promise<void> {
    const session = this.store.read().history.session;
    this.store.set({ work: workOf('list', 'opening the song again') });
    await this.attempt(this.store.read().sheet, async () => {
      await this.client.ask('list', { source });
      await this.client.ask('inspect', { session, roles: [] });
      return () => this.store.set({ work: null });
    });
  }

  /** Where the decisions are those that were solved, their treatment stands. */
  private setHistory(next: SessionHistory): void {
    const { solved, solvedFor } = this.store.read();
    const isSolved = next.session.treatment === null && solved !== null && solvedFor === decisionsText(next);
    const session = isSolved ? { ...next.session, treatment: solved.solution.treatment } : next.session;
    this.store.set({ history: { ...next, session } });
    this.keeper.changed();
  }

  /** Does something with the worker; what it gives is taken over only where the same song is still open. */
  private async attempt(sheet: Sheet, work: () => Promise<() => void | Promise<void>>): Promise<void> {
    const round = this.round;
    this.store.set({ trouble: null });
    try {
      const takeOver = await work();
      if (round === this.round) await takeOver();
    } catch (error) {
      if (round !== this.round) return;
      if (!(error instanceof JobTrouble)) throw error;
      this.store.set({ work: null, trouble: { sheet, trouble: error.trouble } });
    }
  }
}

function matched_dB(solved: SolvedSong | null): number | null {
  return solved !== null && solved.match.kind === 'match' ? solved.match.match_dB : null;
}
