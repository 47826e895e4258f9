import type { Solution } from '../../core/solve/solve-song.js';
import type { Session } from '../../core/session/session-format.js';
import type { Wish } from '../../core/wishes/wish.js';

/** Every wish that stands: what was wished by hand, and what the solved stages were asked for besides; by its statistic. */
export function standingWishes(
  { wishes }: Pick<Session, 'wishes'>,
  solution: Pick<Solution, 'stages'> | null,
): ReadonlyMap<string, Wish> {
  const asked = (solution?.stages ?? []).flatMap(({ request }) => request.asked ?? request.wish ?? []);
  return new Map([...asked, ...wishes].map((wish) => [wish.statistic, wish]));
}
