import { compareMeasurements, type ProofRow } from '../../core/proof/compare-measurements.js';
import type { Revision } from '../../core/session/session-format.js';
import type { SolvedSong } from '../../protocol/job-messages.js';
import { broughtBack, revisionOf, withRevision } from '../versions/revision-of.js';
import type { Deciding } from './deciding.js';
import type { WorkbenchGround } from './workbench-ground.js';
import { isUnsolved, type WorkbenchState } from './workbench-state.js';

/** States under a name: kept, heard, brought back, and the figures of the state as it stands. */
export class NamingVersions {
  constructor(
    private readonly ground: WorkbenchGround,
    private readonly deciding: Deciding,
  ) {}

  /** The state as it stands, under a name. */
  name(name: string): void {
    const { song } = this.ground.store.read();
    if (song === null || !this.ground.mayEdit()) return;
    this.add(name, null, this.rowsNow());
  }

  add(name: string, print: string | null, rows: readonly ProofRow[] | null): void {
    const { history } = this.ground.store.read();
    const { session } = history;
    const at = new Date().toISOString();
    const revision = revisionOf({ session, name, at, print, rows, match_dB: this.matchNow_dB() });
    this.ground.setHistory({ ...history, session: withRevision(session, revision) });
  }

  /** Back to a version, as one step that can be taken back. */
  bringBack(revision: Revision, mark: string): void {
    const { song } = this.ground.store.read();
    if (song === null) return;
    const name = `go back to ${mark}, ${revision.name}`;
    this.deciding.edit({ name, apply: (session) => broughtBack(session, revision, song.untreated) });
  }

  /** A version is heard in place of the state as it stands; null: that state again. */
  readonly audition = (auditioned: WorkbenchState['auditioned']): void => this.ground.store.set({ auditioned });

  /** Figures of the state as it stands; null where it is not solved. */
  rowsNow(): readonly ProofRow[] | null {
    const state = this.ground.store.read();
    const { song, history } = state;
    if (song === null || isUnsolved(state)) return null;
    if (history.session.treatment === null) return compareMeasurements(song.measured, song.measured);
    return this.solvedNow?.solution.rows ?? null;
  }

  /** Gain that makes the state as it stands as loud as the source; null where it is not known. */
  matchNow_dB(): number | null {
    if (this.ground.store.read().history.session.treatment === null) return 0;
    const { solvedNow } = this;
    return solvedNow !== null && solvedNow.match.kind === 'match' ? solvedNow.match.match_dB : null;
  }

  /** What was solved, where it is what stands. */
  private get solvedNow(): SolvedSong | null {
    const { solved, history } = this.ground.store.read();
    return solved !== null && history.session.treatment === solved.solution.treatment ? solved : null;
  }
}
