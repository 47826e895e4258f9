/** Before this much is done and this long has gone by, the pace tells nothing. */
const FEWEST_DONE = 3;
const SHORTEST_ms = 1500;

/** Seconds that are left at the pace so far; null while it cannot be told. */
export function timeLeft_s(gone_ms: number, done: number, total: number): number | null {
  if (done < FEWEST_DONE || gone_ms < SHORTEST_ms || total < done) return null;
  return ((gone_ms / done) * (total - done)) / 1000;
}
