/**
 * Scores found events against the truth as mir_eval does (C. Raffel et al., "mir_eval: a transparent implementation of common
 * MIR metrics", ISMIR 2014): the largest one-to-one matching of events within the windows, F = 2 P R / (P + R).
 */
export interface Score {
  readonly f: number;
  readonly precision: number;
  readonly recall: number;
  /** Index pairs [truth, found]. */
  readonly pairs: readonly (readonly [number, number])[];
}

export function scoreTimes(truth: readonly number[], found: readonly number[], window_s = 0.05): Score {
  return scored(truth.length, found.length, (i, j) => Math.abs(truth[i]! - found[j]!) <= window_s);
}

interface PitchedEvent {
  readonly start_s: number;
  readonly frequency_Hz: number;
}

/** Onset within 50 ms and pitch within 50 cents; ends are not judged. */
export function scoreNotes(
  truth: readonly PitchedEvent[],
  found: readonly PitchedEvent[],
  window_s = 0.05,
  window_cents = 50,
): Score {
  return scored(truth.length, found.length, (i, j) => {
    const cents = 1200 * Math.log2(found[j]!.frequency_Hz / truth[i]!.frequency_Hz);
    return Math.abs(truth[i]!.start_s - found[j]!.start_s) <= window_s && Math.abs(cents) <= window_cents;
  });
}

function scored(truthCount: number, foundCount: number, near: (i: number, j: number) => boolean): Score {
  const pairs = largestMatching(truthCount, foundCount, near);
  const precision = foundCount > 0 ? pairs.length / foundCount : truthCount === 0 ? 1 : 0;
  const recall = truthCount > 0 ? pairs.length / truthCount : foundCount === 0 ? 1 : 0;
  const f = precision + recall > 0 ? (2 * precision * recall) / (precision + recall) : 0;
  return { f, precision, recall, pairs };
}

/** Augmenting paths (H. W. Kuhn, "The Hungarian Method for the Assignment Problem", 1955). */
function largestMatching(
  truthCount: number,
  foundCount: number,
  near: (i: number, j: number) => boolean,
): [number, number][] {
  const takenBy = new Array<number>(foundCount).fill(-1);
  const place = (i: number, seen: Set<number>): boolean => {
    for (let j = 0; j < foundCount; j++) {
      if (seen.has(j) || !near(i, j)) continue;
      seen.add(j);
      if (takenBy[j] === -1 || place(takenBy[j]!, seen)) {
        takenBy[j] = i;
        return true;
      }
    }
    return false;
  };
  for (let i = 0; i < truthCount; i++) place(i, new Set());
  return takenBy.flatMap((i, j) => (i >= 0 ? [[i, j] as [number, number]] : [])).sort((a, b) => a[0] - b[0]);
}
