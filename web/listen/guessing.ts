/** Chances of a guesser, exactly: each of n trials is right with probability 1/2 (binomial distribution). */

/** Probability of k right answers out of `trials` by guessing, for k = 0..trials. */
export function guesserChances(trials: number): number[] {
  let ways = 1;
  return Array.from({ length: trials + 1 }, (_, right) => {
    const chance = ways / 2 ** trials;
    ways = (ways * (trials - right)) / (right + 1);
    return chance;
  });
}

/** Probability that guessing alone does at least this well. */
export function chanceOfAtLeast(right: number, trials: number): number {
  return guesserChances(trials).reduce((sum, chance, k) => (k >= right ? sum + chance : sum), 0);
}

/** The result in words: `12 of 16 right. Guessing alone does this well 1 time in 26.` */
export function sayResult(right: number, trials: number): string {
  const chance = chanceOfAtLeast(right, trials);
  const often =
    chance > 0.4
      ? `${Math.round(100 * chance)} times in 100`
      : `1 time in ${Math.round(1 / chance).toLocaleString('en')}`;
  return `${right} of ${trials} right. Guessing alone does this well ${often}.`;
}

/** What follows from it; 5 % is common practice. */
export function sayMeaning(right: number, trials: number): string {
  return chanceOfAtLeast(right, trials) <= 0.05
    ? 'So you most likely hear a difference; which one is better is yours to say.'
    : 'So a difference is not shown; that is not proof that there is none.';
}
