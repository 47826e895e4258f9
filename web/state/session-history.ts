import type { Session } from '../../core/session/session-format.js';

/** A step that can be taken back: what it is called and how the session stood before and after. */
export interface Step {
  readonly name: string;
  readonly before: Session;
  readonly after: Session;
}

/** Steps without end: those done, and those taken back that may be done again. */
export interface SessionHistory {
  readonly session: Session;
  readonly done: readonly Step[];
  readonly undone: readonly Step[];
}

export function newHistory(session: Session): SessionHistory {
  return { session, done: [], undone: [] };
}

/** A new step; what was taken back before can no longer be done again. Nothing happens where nothing changes. */
export function withStep(history: SessionHistory, name: string, after: Session): SessionHistory {
  const before = history.session;
  if (isSame(before, after)) return history;
  return { session: after, done: [...history.done, { name, before, after }], undone: [] };
}

/** What an edit has left alone is the very object it was, so that only what it touched is compared. */
function isSame(before: Session, after: Session): boolean {
  const parts = Object.keys({ ...before, ...after }) as (keyof Session)[];
  return parts.every(
    (part) => before[part] === after[part] || JSON.stringify(before[part]) === JSON.stringify(after[part]),
  );
}

export function undone(history: SessionHistory): SessionHistory {
  const step = history.done.at(-1);
  if (step === undefined) return history;
  return {
    session: withDecisionsOf(history.session, step.before),
    done: history.done.slice(0, -1),
    undone: [...history.undone, step],
  };
}

export function redone(history: SessionHistory): SessionHistory {
  const step = history.undone.at(-1);
  if (step === undefined) return history;
  return {
    session: withDecisionsOf(history.session, step.after),
    done: [...history.done, step],
    undone: history.undone.slice(0, -1),
  };
}

/** Prints, named versions and blind compares are facts and stay: only what was decided goes back and forth. */
function withDecisionsOf(session: Session, before: Session): Session {
  const { versions, proofs, revisions, blindCompares } = session;
  return { ...before, versions, proofs, revisions, blindCompares };
}
