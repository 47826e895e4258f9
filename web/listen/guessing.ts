import type { BlindCompareRecord } from '../../core/session/session-format.js';

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

/** `12 or more: 3.8 %`. */
export function sayChance(right: number, trials: number): string {
  const percent = 100 * chanceOfAtLeast(right, trials);
  const rounded = percent >= 10 ? percent.toFixed(0) : percent >= 0.1 ? percent.toFixed(1) : percent.toPrecision(1);
  return `${right} or more: ${rounded}\u00a0%`;
}

export function sayAbandoned(answered: number, trials: number): string {
  return `Abandoned after ${answered} of ${trials} trials.`;
}

/** One line of the list of compares that are kept: `25 Nov 2026: source against treated, everything: 12 of 16 right`. */
export function sayKept(record: BlindCompareRecord): string {
  const { date, a, b, conditions, answered, trials, right } = record;
  const day = new Date(date).toLocaleDateString('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
  const end =
    right === null
      ? `abandoned after ${answered} of ${trials}`
      : `${right} of ${trials} right (${sayChance(right, trials)})`;
  return `${day}: ${a} against ${b}, ${conditions}: ${end}.`;
}
