import type { BlindCompareRecord } from '../../core/session/session-format.js';
import type { BlindRecord } from '../audio/blind-compare.js';
import { chanceOfAtLeast } from './guessing.js';

/** A compare as it is kept in the session, with the chance of a guesser to do as well. */
export function recordOf({ right, ...record }: BlindRecord, ended: Date): BlindCompareRecord {
  return {
    ...record,
    answers: [...record.answers],
    date: ended.toISOString(),
    right,
    probability: right === null ? null : chanceOfAtLeast(right, record.trials),
  };
}
