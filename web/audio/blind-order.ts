import { SeededRandom } from '../../core/units/seeded-random.js';

export type Letter = 'A' | 'B';

/** What X is in each trial: an even coin for each, from a seed. */
export function blindOrder(seed: number, trials: number): Letter[] {
  const random = new SeededRandom(seed);
  return Array.from({ length: trials }, () => (random.uniform() < 0.5 ? 'A' : 'B'));
}
