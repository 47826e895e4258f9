import { BlindCompare, type BlindRecord, type BlindTerms } from './blind-compare.js';
import type { Letter } from './blind-order.js';
import type { Hearing } from './heard-mix.js';

/** Whoever can switch so that the switch itself tells nothing. */
export interface BlindSwitch {
  hearBlind(hearing: Hearing): void;
}

/**
 * A blind compare with the sound behind it: A is the source, B the treated. Whoever draws it gets letters in and a record out;
 * which of the two X is goes from here to the monitor alone.
 */
export class BlindRun {
  readonly #compare: BlindCompare;
  readonly #monitor: BlindSwitch;
  readonly #heard: Omit<Hearing, 'side'>;

  /** @param heard the part and the match, fixed from here on. @param seed a number that nobody knows. */
  constructor(monitor: BlindSwitch, heard: Pick<Hearing, 'solo' | 'match_dB'>, terms: BlindTerms, seed: number) {
    this.#compare = new BlindCompare(terms, seed);
    this.#monitor = monitor;
    this.#heard = { ...heard, difference: false };
  }

  get terms(): BlindTerms {
    return this.#compare.terms;
  }

  get answered(): number {
    return this.#compare.answered;
  }

  get record(): BlindRecord | null {
    return this.#compare.record;
  }

  play(letter: Letter | 'X'): void {
    const side = this.#compare.soundOf(letter) === 'A' ? 'source' : 'treated';
    this.#monitor.hearBlind({ ...this.#heard, side });
  }

  answer(said: Letter): void {
    this.#compare.answer(said);
  }

  abandon(): void {
    this.#compare.abandon();
  }
}
