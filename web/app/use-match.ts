import { useEffect, useMemo, useRef, useState } from 'react';
import { isTreated } from '../../core/treatment/paths.js';
import type { Treatment, TreatedRole } from '../../core/treatment/treatment.js';
import { unmeasurable } from '../../core/units/reading.js';
import type { HeardPart } from '../../protocol/heard-part.js';
import { NO_MATCH, UNTOUCHED, type HeardMatch, type Match } from '../listen/heard-match.js';

/** Asks for the match of a part under a treatment. */
export type AskForMatch = (treatment: Treatment, part: HeardPart) => Promise<Match>;

/** Settings that are still moving are not measured. */
const STILL_ms = 500;

export interface MatchGround {
  /** Whatever is another one when another song is open: what is known is forgotten then. */
  readonly of: unknown;
  readonly treatment: Treatment | null;
  readonly part: HeardPart;
  /** A treatment whose match over the whole mix is known: the one that was solved, or a version. */
  readonly given: { readonly treatment: Treatment; readonly match: Match } | null;
  /** Whether the song is measured and the worker is free to answer. */
  readonly ready: boolean;
}

/**
 * The match that holds for what is heard: known at once where nothing is done to the part, where it was solved or measured before;
 * else measured once the settings stand still, and meanwhile that of the settings before is used and called an estimate.
 */
export function useMatch({ of, treatment, part, given, ready }: MatchGround, ask: AskForMatch): HeardMatch {
  const { known, last } = useMemo(() => ({ known: new Map<string, Match>(), last: new Map<HeardPart, Match>() }), [of]);
  const asked = useRef(Promise.resolve());
  const [, setAnswered] = useState(0);
  const key = useMemo(() => (treatment === null ? null : keyOf(treatment, part)), [treatment, part]);
  const match = matchAtHand(known, key, { treatment, part, given });
  useEffect(() => {
    if (match !== undefined) last.set(part, match);
  }, [last, match, part]);
  const missing = match === undefined;
  useEffect(() => {
    // work that was stopped took with it what was asked before it
    if (ready) asked.current = Promise.resolve();
  }, [ready]);
  useEffect(() => {
    if (!missing || !ready || treatment === null || key === null) return undefined;
    let over = false;
    const take = (answer: Match) => {
      known.set(key, answer);
      if (!over) setAnswered((count) => count + 1);
    };
    const timer = setTimeout(() => {
      // one at a time: what is asked for no more is not measured
      asked.current = asked.current.then(async () => {
        if (!over) take(await ask(treatment, part).catch((error: unknown) => unmeasurable(wordsOf(error))));
      });
    }, STILL_ms);
    return () => {
      over = true;
      clearTimeout(timer);
    };
  }, [known, missing, ready, treatment, part, key, ask]);
  if (match !== undefined) return { match, estimated: false };
  const before = last.get(part);
  return before !== undefined && before?.kind === 'match' ? { match: before, estimated: true } : NO_MATCH;
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function matchAtHand(
  known: ReadonlyMap<string, Match>,
  key: string | null,
  { treatment, part, given }: Pick<MatchGround, 'treatment' | 'part' | 'given'>,
): Match | undefined {
  if (treatment === null || key === null) return undefined;
  if (ROLES_OF[part].every((role) => !isTreated(treatment, role))) return UNTOUCHED;
  if (part === 'all' && treatment === given?.treatment) return given.match;
  return known.get(key);
}

const ROLES_OF: Readonly<Record<HeardPart, readonly TreatedRole[]>> = {
  all: ['kick', 'bass', 'rest'],
  'low end': ['kick', 'bass'],
  kick: ['kick'],
  bass: ['bass'],
  'low lane': ['bass'],
  'high lane': ['bass'],
  rest: ['rest'],
};

/** A part of one song's files under these settings. */
function keyOf({ kick, bass, rest, notes, hits }: Treatment, part: HeardPart): string {
  return JSON.stringify([part, kick, bass, rest, notes.length, hits.length]);
}
