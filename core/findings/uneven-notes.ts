import { evennessOf } from '../measure/evenness-of-levels.js';
import type { EvennessMeasure } from '../measure/evenness.js';
import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import { valueOf } from '../units/reading.js';
import { clamp } from '../units/units.js';
import { filesOf } from './files-of-role.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { EMPTY_PLACE, type Finding } from './finding.js';
import { sayCount, sayFigure, sayShare } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

/** Most that the stage rides a note by default. */
const RIDE_dB = 6;
/** What sits in a mix. */
const WANTED_SPREAD_dB = 3;

export const unevenNotes: FindingDeclaration = {
  id: 'uneven-notes',
  name: 'uneven notes',
  help:
    'The levels of the bass notes spread over more than 6 dB (P90 − P10, 30 to 250 ms of every note, unweighted) and at least ' +
    '10 % of them lie more than 4 dB off the line through the pitches. At least 12 notes. Tolerances measured for this project.',
  leaveItWhen: 'the loud and soft notes are the player’s shading, or the part is built on ghost notes.',
  companions: ['resonant-note', 'covered-kick', 'no-headroom'],
  reads: ['evenness'],

  find({ evenness }: Measurements, stems: readonly Stem[]): Finding[] {
    if (evenness.kind !== 'measured' || evenness.countedNotes < TOLERANCES.unevenNotes) return [];
    const spread = valueOf(evenness.spread_dB);
    const share = valueOf(evenness.shareBeyond4dB);
    if (spread === null || share === null) return [];
    if (spread <= TOLERANCES.spread_dB || share < TOLERANCES.shareBeyond4dB) return [];
    return [findingOf(stems, evenness, spread, share)];
  },

  unjudged({ evenness }: Measurements): string | null {
    if (evenness.kind === 'unmeasurable') return evenness.reason;
    if (evenness.countedNotes >= TOLERANCES.unevenNotes) return null;
    return `too few to judge: ${sayCount(evenness.countedNotes, 'bass note')}, ${TOLERANCES.unevenNotes} needed`;
  },
};

function findingOf(stems: readonly Stem[], evenness: EvennessMeasure, spread: number, share: number): Finding {
  const beyond = evenness.notes.filter((note) => note.deviation_dB !== null && Math.abs(note.deviation_dB) > 4);
  const heard = valueOf(evenness.asHeard_dB);
  return {
    id: 'uneven-notes',
    severity: severityOf(spread - TOLERANCES.spread_dB, TOLERANCES.spread_dB),
    sentence:
      `The bass notes spread over ${sayFigure(spread, 'dB')}; ${beyond.length} of ${sayCount(evenness.countedNotes, 'note')} ` +
      `(${sayShare(share)}) lie more than ${sayFigure(4, 'dB', 0)} off their register.`,
    where: {
      ...EMPTY_PLACE,
      files: filesOf(stems, 'bass'),
      notes: beyond.map(({ name, start_s }) => ({ name, start_s })),
      times_s: beyond.map(({ start_s, end_s }) => [start_s, end_s] as const),
    },
    evidence: {
      spread_dB: spread,
      asHeard_dB: heard,
      shareBeyond4dB: share,
      scatter_dB: evenness.scatter_dB,
      lineAt55Hz_dBFS: evenness.lineAt55Hz_dBFS,
      lineSlope_dB_per_oct: evenness.lineSlope_dB_per_oct,
      noteStart_s: evenness.notes.map((note) => note.start_s),
      noteName: evenness.notes.map((note) => note.name),
      noteFrequency_Hz: evenness.notes.map((note) => note.frequency_Hz),
      noteLevel_dBFS: evenness.notes.map((note) => note.level_dBFS),
      noteDeviation_dB: evenness.notes.map((note) => note.deviation_dB),
    },
    suggest: {
      stage: 'even',
      address: 'bass.even',
      wish: `evenness.spread_dB <= ${WANTED_SPREAD_dB}`,
      settings: { which: 'all' },
      expected: { value: expectedSpread_dB(evenness), unit: 'dB', basis: 'estimate' },
    },
    leaveItWhen: unevenNotes.leaveItWhen,
  };
}

/** Closed form: every note ridden back to the line by at most 6 dB, or no further than is wanted. */
function expectedSpread_dB(evenness: EvennessMeasure): number {
  const counted = evenness.notes.filter((note) => note.deviation_dB !== null && note.level_dBFS !== null);
  const ridden = counted.map((note) => note.level_dBFS! - clamp(note.deviation_dB!, -RIDE_dB, RIDE_dB));
  const least = evennessOf(
    ridden,
    counted.map((note) => note.frequency_Hz),
  ).spread_dB;
  return Math.max(least, WANTED_SPREAD_dB);
}
