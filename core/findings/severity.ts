const MOST = 3;

/**
 * Severity of a finding: how many tolerances a reading lies beyond its tolerance, 0 at the tolerance and at most 3.
 * @param beyond distance past the tolerance, in the reading's unit; negative counts as 0.
 * @param tolerance size of one tolerance in the same unit, above 0.
 */
export function severityOf(beyond: number, tolerance: number): number {
  return Math.max(0, Math.min(MOST, beyond / tolerance));
}
