import type { FindingDeclaration } from '../../core/findings/finding-declaration.js';
import type { Finding } from '../../core/findings/finding.js';
import type { Measurements } from '../../core/measure/measurements.js';
import type { Knowledge } from '../../core/measure/song-sound.js';
import type { Note } from '../../core/song/song.js';
import { unmeasurable } from '../../core/units/reading.js';

const none = unmeasurable('not part of this test');

/** Knowledge of a song of which only hits or notes are given. */
export function knowledgeOf(known: Partial<Knowledge>): Knowledge {
  return { hits: [], notes: [], tempo_bpm: none, fundamental_Hz: none, decay_ms: none, ...known };
}

/** Measurements of which only some are given; the others say that they could not be made. */
export function measurementsOf(given: Partial<Measurements>): Measurements {
  return {
    known: knowledgeOf({}),
    clearance: none,
    agreement: none,
    trackAlignments: [],
    centre: none,
    evenness: none,
    carry: none,
    headroom: none,
    stemLows: [],
    ...given,
  };
}

export function noteOf(start_s: number, end_s: number, frequency_Hz: number): Note {
  return {
    start_s,
    end_s,
    frequency_Hz,
    level_dBFS: -20,
    harmonics_dB: [],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0,
  };
}

/** What a declaration finds in measurements alone, no stem known. */
export function foundBy(declaration: FindingDeclaration, measured: Measurements): Finding[] {
  return declaration.find(measured, []);
}
