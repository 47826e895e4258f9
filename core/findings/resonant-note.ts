import type { EvennessMeasure, EvennessPitch } from '../measure/evenness.js';
import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import { filesOf } from './files-of-role.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { EMPTY_PLACE, type Finding } from './finding.js';
import { sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';

/** Most that the stage rides a note by default. */
const RIDE_dB = 6;
/** Below this a pitch is as level as players are. */
const LEAST_WISH_dB = 1.5;
const MOST_NAMED = 4;

export const resonantNote: FindingDeclaration = {
  id: 'resonant-note',
  name: 'resonant or dead notes',
  help:
    'A pitch that is too loud or too soft every time it is played: at least 3 notes (4 where the playing scatters by more than ' +
    '2 dB), their median off the line through the pitches by at least 3 dB and 2.5 s/√n, and 75 % of them 2 dB or more to that ' +
    'side. Tolerances measured for this project: false alarms on 0 to 2 % of songs.',
  leaveItWhen:
    'the note is meant to stand out, or it rings in the room of the recording and the arrangement leans on it.',
  companions: ['uneven-notes', 'covered-kick', 'no-headroom'],
  reads: ['evenness'],

  find({ evenness }: Measurements, stems: readonly Stem[]): Finding[] {
    if (evenness.kind !== 'measured') return [];
    const faulty = evenness.pitches.filter((pitch) => pitch.fault !== null);
    return faulty.length === 0 ? [] : [findingOf(stems, evenness, faulty)];
  },

  unjudged({ evenness }: Measurements): string | null {
    if (evenness.kind === 'unmeasurable') return evenness.reason;
    return evenness.pitches.some((pitch) => pitch.judged) ? null : 'too few to judge: no pitch is played three times';
  },
};

function findingOf(stems: readonly Stem[], evenness: EvennessMeasure, faulty: readonly EvennessPitch[]): Finding {
  const worstFirst = [...faulty].sort((a, b) => Math.abs(b.median_dB) - Math.abs(a.median_dB));
  const wish_dB = wishFor(evenness);
  return {
    id: 'resonant-note',
    severity: Math.max(
      ...faulty.map((pitch) => severityOf(Math.abs(pitch.median_dB) - pitch.tolerance_dB, pitch.tolerance_dB)),
    ),
    sentence: sentenceOf(worstFirst),
    where: {
      ...EMPTY_PLACE,
      files: filesOf(stems, 'bass'),
      notes: worstFirst.flatMap(({ name, starts_s }) => starts_s.map((start_s) => ({ name, start_s }))),
      bands_Hz: worstFirst.map(({ frequency_Hz }) => frequency_Hz),
    },
    evidence: evidenceOf(evenness),
    suggest: {
      stage: 'even',
      address: 'bass.even',
      wish: `evenness.pitchDeviation_dB <= ${wish_dB}`,
      settings: { which: 'pitches' },
      expected: { value: expectedDeviation_dB(evenness), unit: 'dB', basis: 'estimate' },
    },
    leaveItWhen: resonantNote.leaveItWhen,
  };
}

/** `A1 stands 4.9 dB above its neighbours, D2 3.7 dB below, every time.` */
function sentenceOf(worstFirst: readonly EvennessPitch[]): string {
  const named = worstFirst.slice(0, MOST_NAMED).map((pitch, i) => {
    const side = pitch.median_dB > 0 ? 'above' : 'below';
    const by = sayFigure(Math.abs(pitch.median_dB), 'dB');
    return i === 0 ? `${pitch.name} stands ${by} ${side} its neighbours` : `${pitch.name} ${by} ${side}`;
  });
  const more = worstFirst.length - named.length;
  if (more > 0) named.push(`and ${more} more`);
  const always = worstFirst.every((pitch) => pitch.sideShare === 1);
  return `${named.join(', ')}, ${always ? 'every time' : 'nearly every time'}.`;
}

function evidenceOf({ pitches, scatter_dB, lineAt55Hz_dBFS, lineSlope_dB_per_oct }: EvennessMeasure) {
  return {
    scatter_dB,
    lineAt55Hz_dBFS,
    lineSlope_dB_per_oct,
    pitchName: pitches.map((pitch) => pitch.name),
    pitchFrequency_Hz: pitches.map((pitch) => pitch.frequency_Hz),
    pitchNotes: pitches.map((pitch) => pitch.members.length),
    pitchDeviation_dB: pitches.map((pitch) => pitch.median_dB),
    pitchTolerance_dB: pitches.map((pitch) => pitch.tolerance_dB),
    pitchSideShare: pitches.map((pitch) => pitch.sideShare),
    pitchLowLaneDeviation_dB: pitches.map((pitch) => pitch.lowLaneDeviation_dB),
    pitchHighLaneDeviation_dB: pitches.map((pitch) => pitch.highLaneDeviation_dB),
    pitchFault: pitches.map((pitch) => pitch.fault),
  };
}

/** Riding the faulty pitches leaves the others as they are: no less can be wished than the furthest of these, in half dB. */
function wishFor(evenness: EvennessMeasure): number {
  const others = evenness.pitches.filter((pitch) => pitch.judged && pitch.fault === null);
  const furthest = Math.max(0, ...others.map((pitch) => Math.abs(pitch.median_dB)));
  return Math.max(LEAST_WISH_dB, Math.ceil(2 * furthest) / 2);
}

function expectedDeviation_dB(evenness: EvennessMeasure): number {
  const left = evenness.pitches
    .filter((pitch) => pitch.judged)
    .map(({ fault, median_dB }) => (fault === null ? Math.abs(median_dB) : Math.max(0, Math.abs(median_dB) - RIDE_dB)));
  return Math.max(0, ...left);
}
