import type { Session } from '../../core/session/session-format.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import { decisionsText, noSong, type Sheet, type WorkbenchState } from './workbench-state.js';
import { jobClient } from './job-client.js';
import { newHistory, type SessionHistory } from './session-history.js';
import { SessionKeeper } from './session-keeper.js';
import { soundClient } from './sound-client.js';
import { StateStore } from './state-store.js';
import { JobTrouble } from './worker-client.js';

/** What everything that is done to the state stands on: the state itself, the threads, and what is kept. */
export class WorkbenchGround {
  readonly store = new StateStore<WorkbenchState>(noSong());
  readonly client = jobClient((work) => this.store.set({ work }));
  readonly player = soundClient();
  readonly keeper = new SessionKeeper({
    session: () => this.store.read().history.session,
    writeBeside: (session) => this.client.ask('save', { session }),
    onSaved: (saved_ms, keeping) => this.store.set({ saved_ms, keeping }),
    onReadsOnly: (readsOnly) => this.store.set({ readsOnly }),
    onSession: (session) => this.store.set({ history: newHistory(session) }),
  });
  private round = 0;

  /** False in a tab that only reads, which says so again. */
  mayEdit(): boolean {
    const { readsOnly, refusedEdits } = this.store.read();
    if (readsOnly) this.store.set({ refusedEdits: refusedEdits + 1 });
    return !readsOnly;
  }

  /** Where the decisions are those that were solved, their treatment stands. */
  setHistory(next: SessionHistory): void {
    const { solved, solvedFor } = this.store.read();
    const { treatment } = next.session;
    const isSolved =
      solved !== null &&
      solvedFor === decisionsText(next) &&
      (treatment === null || isSame(treatment, solved.solution.treatment));
    const session = isSolved ? { ...next.session, treatment: solved.solution.treatment } : next.session;
    this.store.set({ history: { ...next, session } });
    this.keeper.changed();
  }

  /** The session as it stands with something of it changed, which is no step that can be taken back. */
  amend(change: Partial<Session>): void {
    const { history } = this.store.read();
    this.setHistory({ ...history, session: { ...history.session, ...change } });
  }

  /** @returns what tells whether the same song is still open: answers to what was asked before another came are let fall. */
  sameSong(): () => boolean {
    const { round } = this;
    return () => round === this.round;
  }

  /** Answers that are still awaited are let fall. */
  turnPage(): void {
    this.round += 1;
  }

  stopThreads(): void {
    this.client.stop();
    this.player.stop();
    this.turnPage();
  }

  /** Does something with the worker; what it gives is taken over only where the same song is still open. */
  async attempt(sheet: Sheet, work: () => Promise<() => void | Promise<void>>): Promise<void> {
    const isSameSong = this.sameSong();
    this.store.set({ trouble: null });
    try {
      const takeOver = await work();
      if (isSameSong()) await takeOver();
    } catch (error) {
      if (!isSameSong()) return;
      if (!(error instanceof JobTrouble)) throw error;
      this.store.set({ work: null, trouble: { sheet, trouble: error.trouble } });
    }
  }
}

/** Whether two treatments say the same, made at different times. */
function isSame(one: Treatment, other: Treatment): boolean {
  return one === other || JSON.stringify(one) === JSON.stringify(other);
}
