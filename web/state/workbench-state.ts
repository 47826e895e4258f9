import { emptySession } from '../../core/session/session-format.js';
import type { Role } from '../../core/song/song.js';
import type {
  InspectedSong,
  ListedSong,
  PrintedSong,
  SolvedSong,
  SongSource,
  Trouble,
} from '../../protocol/job-messages.js';
import type { SoundingSong } from '../../protocol/sound-request.js';
import type { Keeping } from './keeping.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import type { SongSoFar } from './song-so-far.js';
import type { Work } from './worker-client.js';
import { newHistory, type SessionHistory } from './session-history.js';

export const SHEETS = ['stems', 'findings', 'path', 'proof'] as const;
export type Sheet = (typeof SHEETS)[number];
/** What rises over the sheet and goes with Esc. */
export type Raised = 'keys' | 'versions' | 'print';

/** Everything the page shows, as plain data. */
export interface WorkbenchState {
  readonly sheet: Sheet;
  readonly raised: Raised | null;
  readonly source: SongSource | null;
  readonly listed: ListedSong | null;
  /** What can be heard: at once by the names of the files, then as measured. */
  readonly sounding: SoundingSong | null;
  /** Roles that were chosen by hand and are not measured yet. */
  readonly roles: ReadonlyMap<string, Role>;
  /** What is told while the song is measured. */
  readonly soFar: SongSoFar | null;
  /** The song as soon as its hits and notes are known; parts of it may still be measured. */
  readonly song: InspectedSong | null;
  readonly history: SessionHistory;
  readonly solved: SolvedSong | null;
  /** The decisions that `solved` answers, as text: another text is solved anew. */
  readonly solvedFor: string;
  readonly printed: PrintedSong | null;
  readonly work: Work | null;
  /** What went wrong, and on which sheet it is said. */
  readonly trouble: { readonly sheet: Sheet; readonly trouble: Trouble } | null;
  /** A version that is heard in place of the state as it stands, with the gain that makes it as loud as the source. */
  readonly auditioned: { readonly treatment: Treatment; readonly match_dB: number } | null;
  readonly chosenFinding: number;
  readonly openStage: string | null;
  /** When the session was saved last, in milliseconds; null before. */
  readonly saved_ms: number | null;
  readonly keeping: Keeping | null;
  /** Another tab has this song open and edits it: this one listens and looks. */
  readonly readsOnly: boolean;
  /** How often an edit was refused because of that: the page says so again each time. */
  readonly refusedEdits: number;
}

export function noSong(): WorkbenchState {
  return {
    sheet: 'stems',
    raised: null,
    source: null,
    listed: null,
    sounding: null,
    roles: new Map(),
    soFar: null,
    song: null,
    history: newHistory(emptySession()),
    solved: null,
    solvedFor: '',
    printed: null,
    work: null,
    trouble: null,
    auditioned: null,
    chosenFinding: 0,
    openStage: null,
    saved_ms: null,
    keeping: null,
    readsOnly: false,
    refusedEdits: 0,
  };
}

/** What a solution depends on, as text. */
export function decisionsText({ session }: SessionHistory): string {
  return JSON.stringify([session.decisions, session.wishes, session.settings]);
}

/** Whether solving would bring something: what is agreed to is not solved yet, or not to its end. */
export function maySolve(state: WorkbenchState): boolean {
  return state.work === null && (isUnsolved(state) || isStopped(state));
}

/** Whether what is agreed to was solved, but stopped before its end. */
export function isStopped(state: WorkbenchState): boolean {
  return !isUnsolved(state) && state.solved !== null && state.solved.solution.stopped !== null;
}

/** Whether something is agreed to that is not solved yet. */
export function isUnsolved(state: WorkbenchState): boolean {
  const { decisions, wishes, settings } = state.history.session;
  const agreed = wishes.length > 0 || settings.length > 0 || decisions.some(({ action }) => action === 'treat');
  return agreed && (state.solved === null || state.solvedFor !== decisionsText(state.history));
}

/** Whether what stands is solved and can be printed. */
export function mayPrint(state: WorkbenchState): boolean {
  return state.work === null && state.solved !== null && !isUnsolved(state) && !state.readsOnly;
}
