import type { StageId } from '../treatment/treatment.js';

/** One measured fault: where, how much, how sure, what would mend it, when to leave it. */
export interface Finding {
  readonly id: FindingId;
  /** Tolerances beyond the tolerance: 0 at the tolerance, capped at 3. Order of cost. */
  readonly severity: number;
  readonly sentence: string;
  readonly where: FindingPlace;
  /** Plain numbers, strings and arrays that a plot and a table both read; keys carry units. */
  readonly evidence: Readonly<Record<string, EvidenceValue>>;
  readonly suggest: Suggestion;
  readonly leaveItWhen: string;
}

export type EvidenceValue = number | string | boolean | null | readonly (number | string | null)[];

export interface FindingPlace {
  readonly files: readonly string[];
  readonly hits_s: readonly number[];
  /** Note names with their time: `{ name: 'A1', start_s }`. */
  readonly notes: readonly { readonly name: string; readonly start_s: number }[];
  readonly bands_Hz: readonly number[];
  /** Ranges of song time. */
  readonly times_s: readonly (readonly [number, number])[];
}

export interface Suggestion {
  /** The stage that would mend it, at its place (`bass.make-room`), or `none` where nothing here can. */
  readonly stage: StageId | 'none';
  readonly address: string;
  /** The wish to give that stage, as text (`clearance.share2dB >= 90 %`), empty where none. */
  readonly wish: string;
  /** Settings that follow directly from the measurement (a delay, a corner), by key. */
  readonly settings: Readonly<Record<string, number | string | boolean>>;
  readonly expected: { readonly value: number; readonly unit: string; readonly basis: 'estimate' | 'rendered' } | null;
}

export type FindingId =
  | 'covered-kick'
  | 'cancelling-lows'
  | 'misaligned-mics'
  | 'wide-lows'
  | 'uneven-notes'
  | 'resonant-note'
  | 'lost-on-small-speakers'
  | 'rumble'
  | 'dc-offset'
  | 'no-headroom'
  | 'file-fault'
  | 'clipped-source';

export const EMPTY_PLACE: FindingPlace = { files: [], hits_s: [], notes: [], bands_Hz: [], times_s: [] };
