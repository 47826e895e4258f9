/** What the words of the song mean, as plain data. Times are seconds of song time unless a name says samples. */

/** `kick`, `bass` and `rest` are summed; `mix` is a witness; `reference` a finished record; `aside` is left out. */
export type Role = 'kick' | 'bass' | 'rest' | 'mix' | 'reference' | 'aside';

export const ROLES: readonly Role[] = ['kick', 'bass', 'rest', 'mix', 'reference', 'aside'];

/** A fault of a file, named so that a table and a test can speak of it. */
export interface FileFault {
  /** kebab-case, for instance `declared-length`, `not-finite-samples`, `silent-side`, `duplicate`, `clipped-source`. */
  readonly id: string;
  readonly sentence: string;
}

/** One stem file and what is known of it. */
export interface Stem {
  /** Relative to the song folder. */
  readonly file: string;
  readonly role: Role;
  /** Why it has that role, for the engineer to check: a plain phrase. */
  readonly because: string;
  /** How sure the guess is, 0..1; under 0.6 it is asked. */
  readonly confidence: number;
  readonly channels: number;
  /** `16`, `24`, `32`, `32f`, `64f`, `8` as the file stores it. */
  readonly bitDepth: string;
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  readonly duration_s: number;
  /** Where the stem begins on the song's clock, in samples of its own rate. */
  readonly start_samples: number;
  readonly faults: readonly FileFault[];
}

/** One kick hit. `time_s` is the attack: the first sample at 10 % of the hit's peak. */
export interface Hit {
  readonly time_s: number;
  /** 10 lg of mean square of the first 150 ms, both channels summed, 30-200 Hz. */
  readonly level_dBFS: number;
}

/** One bass note. */
export interface Note {
  readonly start_s: number;
  readonly end_s: number;
  /** Median fundamental over 30..300 ms. */
  readonly frequency_Hz: number;
  /** 10 lg mean square, 30 ms after the onset to min(250 ms, end - 20 ms), unweighted (measures.md 4). */
  readonly level_dBFS: number;
  /** Level of harmonics 1..8 relative to the strongest, dB; -120 where there is nothing. */
  readonly harmonics_dB: readonly number[];
  /** True where the fundamental itself is more than 15 dB under the note's level. */
  readonly fundamentalMissing: boolean;
  /** Pitch over time where the note slides (more than a semitone): frequency every `curveStep_s` from start_s. */
  readonly curve_Hz: readonly number[] | null;
  readonly curveStep_s: number;
}
