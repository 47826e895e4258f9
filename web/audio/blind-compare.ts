import { blindOrder, type Letter } from './blind-order.js';

/** Agreed before the first trial. */
export interface BlindTerms {
  readonly a: string;
  readonly b: string;
  /** Part, loudspeaker and loop, in words. */
  readonly conditions: string;
  /** Gain on B that makes both equally loud, dB. */
  readonly match_dB: number;
  readonly trials: number;
}

export interface BlindAnswer {
  readonly x: Letter;
  readonly said: Letter;
}

/** How a compare ended: every trial answered, or abandoned, and then nothing is told of what was right. */
export interface BlindRecord extends BlindTerms {
  readonly answered: number;
  /** Empty where it was abandoned. */
  readonly answers: readonly BlindAnswer[];
  readonly right: number | null;
}

/**
 * One blind compare. What X is lies in a private field and nothing of it leaves before the last answer: not the tally, not the
 * seed, nor anything that the page draws.
 */
export class BlindCompare {
  readonly #order: readonly Letter[];
  readonly #said: Letter[] = [];
  #abandoned = false;

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
    return this.#abandoned || this.#said.length >= this.terms.trials;
  }

  /** Which of the two is to be played: for the sound alone, never for the page. */
  soundOf(letter: Letter | 'X'): Letter {
    return letter === 'X' ? (this.#order[Math.min(this.#said.length, this.#order.length - 1)] ?? 'A') : letter;
  }

  /** Answers the trial under way; answers after the last are not counted. */
  answer(said: Letter): void {
    if (!this.finished) this.#said.push(said);
  }

  /** Ends it before the last answer: its tally is never told. */
  abandon(): void {
    if (!this.finished) this.#abandoned = true;
  }

  /** The record, or null before the end. */
  get record(): BlindRecord | null {
    if (!this.finished) return null;
    const { terms, answered } = this;
    if (this.#abandoned) return { ...terms, answered, answers: [], right: null };
    const answers = this.#said.map((said, i) => ({ x: this.#order[i]!, said }));
    return { ...terms, answered, answers, right: answers.filter(({ x, said }) => x === said).length };
  }
}
