import { blindOrder, type Letter } from './blind-order.js';

/** Agreed before the first trial. */
export interface BlindTerms {
  readonly a: string;
  readonly b: string;
  /** Part, loudspeaker and loop, in words. */
  readonly conditions: string;
  readonly trials: number;
}

/** A compare as it is kept in the session, once every trial is answered. */
export interface BlindRecord extends BlindTerms {
  readonly answers: readonly { readonly x: Letter; readonly said: Letter }[];
  readonly right: number;
}

/**
 * One blind compare. What X is lies in a private field and nothing of it leaves before the last answer: not the tally, not the
 * seed, nor anything that the page draws.
 */
export class BlindCompare {
  readonly #order: readonly Letter[];
  readonly #said: Letter[] = [];

  constructor(
    readonly terms: BlindTerms,
    seed: number,
  ) {
    this.#order = blindOrder(seed, terms.trials);
  }

  get answered(): number {
    return this.#said.length;
  }

  get finished(): boolean {
    return this.#said.length >= this.terms.trials;
  }

  /** Which of the two is to be played: for the sound alone, never for the page. */
  soundOf(letter: Letter | 'X'): Letter {
    return letter === 'X' ? (this.#order[Math.min(this.#said.length, this.#order.length - 1)] ?? 'A') : letter;
  }

  /** Answers the trial under way; answers after the last are not counted. */
  answer(said: Letter): void {
    if (!this.finished) this.#said.push(said);
  }

  /** The record, or null before the last answer. */
  get record(): BlindRecord | null {
    if (!this.finished) return null;
    const answers = this.#said.map((said, i) => ({ x: this.#order[i]!, said }));
    return { ...this.terms, answers, right: answers.filter(({ x, said }) => x === said).length };
  }
}

/** What a key does while the compare has the keyboard; null: nothing, and nothing else acts either. */
export function blindKey(key: string): { play: Letter | 'X' } | { answer: Letter } | 'close' | null {
  const letter = key.toUpperCase();
  if (letter === 'A' || letter === 'B' || letter === 'X') return { play: letter };
  if (key === 'ArrowLeft') return { answer: 'A' };
  if (key === 'ArrowRight') return { answer: 'B' };
  return key === 'Escape' ? 'close' : null;
}
