import { valueOf } from '../../core/units/reading.js';
import type { ProofRow } from '../../core/proof/compare-measurements.js';
import type { Revision, Session } from '../../core/session/session-format.js';
import type { RolePath, Treatment } from '../../core/treatment/treatment.js';

/** What is known of the state that is to be named. */
export interface StateToName {
  readonly session: Session;
  readonly name: string;
  /** ISO 8601. */
  readonly at: string;
  readonly print: string | null;
  /** Figures of this very state; null where it was not solved. */
  readonly rows: readonly ProofRow[] | null;
  readonly match_dB: number | null;
}

/** A state under its name. The hits and notes that its treatment follows belong to the song and are only marked. */
export function revisionOf({ session, name, at, print, rows, match_dB }: StateToName): Revision {
  const { decisions, wishes, settings, orders, treatment } = session;
  return {
    ...{ name, at, print, decisions, wishes, settings, orders },
    treatment: treatment === null ? null : { follows: markOf(treatment), ...pathsOf(treatment) },
    match_dB,
    rows: (rows ?? []).map(({ statistic, before, after, verdict }) => ({
      ...{ statistic: statistic.address, verdict },
      before: valueOf(before),
      after: valueOf(after),
    })),
  };
}

/** The session with a version more. A state that was named before keeps its name when it is printed, and gets the print. */
export function withRevision(session: Session, revision: Revision): Session {
  const at = revision.print === null ? -1 : session.revisions.findLastIndex((one) => isSameState(one, revision));
  if (at < 0) return { ...session, revisions: [...session.revisions, revision] };
  const { print, rows } = revision;
  return { ...session, revisions: session.revisions.map((one, i) => (i === at ? { ...one, print, rows } : one)) };
}

type State = Pick<Revision, 'decisions' | 'wishes' | 'settings' | 'orders'> & {
  readonly treatment: Pick<Treatment, 'kick' | 'bass' | 'rest'> | null;
};

/** Whether two states decide the same and are treated the same; names and figures aside. */
export function isSameState(one: State, other: State): boolean {
  return stateText(one) === stateText(other);
}

function stateText({ decisions, wishes, settings, orders, treatment }: State): string {
  return JSON.stringify([decisions, wishes, settings, orders, treatment === null ? null : pathsOf(treatment)]);
}

/** The treatment of a version as it can be played, with the song's hits and notes; null where it follows others or other files. */
export function playableTreatment({ treatment }: Revision, untreated: Treatment): Treatment | null {
  if (treatment === null || treatment.follows !== markOf(untreated)) return null;
  const paths = pathsOf(treatment);
  const fits = (['kick', 'bass', 'rest'] as const).every((role) => filesOf(paths[role]) === filesOf(untreated[role]));
  return fits ? { ...untreated, ...paths } : null;
}

/** The session as a version had it. Where its treatment does not fit the song any more, it is to be solved again. */
export function broughtBack(session: Session, revision: Revision, untreated: Treatment): Session {
  const { decisions, wishes, settings, orders } = revision;
  return { ...session, decisions, wishes, settings, orders, treatment: playableTreatment(revision, untreated) };
}

function pathsOf({ kick, bass, rest }: Pick<Treatment, 'kick' | 'bass' | 'rest'>) {
  return { kick, bass, rest };
}

function filesOf({ tracks }: RolePath): string {
  return tracks.map(({ file }) => file).join('\n');
}

/** A mark of the hits and notes that a treatment follows: 64 bits by FNV-1a, forwards and backwards. */
function markOf({ hits, notes, sampleRate_Hz }: Pick<Treatment, 'hits' | 'notes' | 'sampleRate_Hz'>): string {
  const text = JSON.stringify([sampleRate_Hz, hits, notes]);
  let forwards = 0x811c9dc5;
  let backwards = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) {
    forwards = Math.imul(forwards ^ text.charCodeAt(i), 0x01000193);
    backwards = Math.imul(backwards ^ text.charCodeAt(text.length - 1 - i), 0x01000193);
  }
  return [forwards, backwards].map((half) => (half >>> 0).toString(16).padStart(8, '0')).join('');
}
