import type { CarryMeasure, CarryNote } from '../measure/carry.js';
import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import { valueOf } from '../units/reading.js';
import { filesOf } from './files-of-role.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { EMPTY_PLACE, type Finding, type Suggestion } from './finding.js';
import { sayFigure, sayShare } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

const WANTED_CARRY_LU = -14;
const WANTED_SHARE = 0.8;

export const lostOnSmallSpeakers: FindingDeclaration = {
  id: 'lost-on-small-speakers',
  name: 'bass lost on small loudspeakers',
  help:
    'On a modelled laptop (24 dB per octave below 200 Hz) the bass falls more than 16 LU further than the song does, or fewer ' +
    'than 60 % of its notes have two successive harmonics heard. Tolerances measured for this project.',
  leaveItWhen: 'the bass is meant as a sub only, or another part plays its line an octave higher.',
  companions: ['covered-kick', 'no-headroom'],
  reads: ['carry'],

  find({ carry }: Measurements, stems: readonly Stem[]): Finding[] {
    if (carry.kind !== 'measured') return [];
    const laptop = valueOf(carry.laptop_LU);
    const share = countedOf(carry).length >= TOLERANCES.heardNotes ? valueOf(carry.heardHarmonicsShare) : null;
    const fallsFar = laptop !== null && laptop < TOLERANCES.laptopCarry_LU;
    const unheard = share !== null && share < TOLERANCES.heardHarmonicsShare;
    return fallsFar || unheard ? [findingOf(stems, carry, laptop, share, fallsFar)] : [];
  },

  unjudged({ carry }: Measurements): string | null {
    if (carry.kind === 'unmeasurable') return carry.reason;
    return carry.laptop_LU.kind === 'unmeasurable' ? carry.laptop_LU.reason : null;
  },
};

function countedOf(carry: CarryMeasure): CarryNote[] {
  return carry.notes.filter((note) => note.harmonics !== null);
}

function findingOf(
  stems: readonly Stem[],
  carry: CarryMeasure,
  laptop: number | null,
  share: number | null,
  fallsFar: boolean,
): Finding {
  const unheard = countedOf(carry).filter((note) => note.harmonics!.run.laptop < 2);
  return {
    id: 'lost-on-small-speakers',
    severity: Math.max(
      laptop === null ? 0 : severityOf(TOLERANCES.laptopCarry_LU - laptop, -TOLERANCES.laptopCarry_LU),
      share === null ? 0 : severityOf(TOLERANCES.heardHarmonicsShare - share, TOLERANCES.heardHarmonicsShare),
    ),
    sentence: sentenceOf(laptop, share, fallsFar),
    where: {
      ...EMPTY_PLACE,
      files: filesOf(stems, 'bass'),
      notes: unheard.map(({ name, start_s }) => ({ name, start_s })),
    },
    evidence: {
      laptop_LU: laptop,
      phone_LU: valueOf(carry.phone_LU),
      earbud_LU: valueOf(carry.earbud_LU),
      monoSpeaker_LU: valueOf(carry.monoSpeaker_LU),
      heardHarmonicsShare: share,
      noteStart_s: carry.notes.map((note) => note.start_s),
      noteName: carry.notes.map((note) => note.name),
      noteFrequency_Hz: carry.notes.map((note) => note.frequency_Hz),
      noteHeardInARow: carry.notes.map((note) => note.harmonics?.run.laptop ?? null),
      noteHeard: carry.notes.map((note) => heardAsText(note)),
    },
    suggest: fallsFar ? suggestCarry() : suggestHeard(),
    leaveItWhen: lostOnSmallSpeakers.leaveItWhen,
  };
}

function sentenceOf(laptop: number | null, share: number | null, fallsFar: boolean): string {
  const heard = share === null ? '' : `two harmonics in a row are heard on ${sayShare(share)} of the notes`;
  if (!fallsFar) return `On a laptop ${heard}.`;
  const falls = `On a laptop the bass falls ${sayFigure(-laptop!, 'LU')} further than the song does`;
  return heard === '' ? `${falls}.` : `${falls}; ${heard}.`;
}

/** One sign per harmonic from the fundamental up: `-` not heard, `x` heard. */
function heardAsText({ harmonics }: CarryNote): string | null {
  return harmonics === null ? null : harmonics.heard.laptop.map((heard) => (heard ? 'x' : '-')).join('');
}

function suggestCarry(): Suggestion {
  return {
    stage: 'harmonics',
    address: 'bass.low.harmonics',
    wish: `carry.laptop_LU >= ${WANTED_CARRY_LU}`,
    settings: {},
    expected: { value: WANTED_CARRY_LU, unit: 'LU', basis: 'estimate' },
  };
}

function suggestHeard(): Suggestion {
  return {
    stage: 'harmonics',
    address: 'bass.low.harmonics',
    wish: `carry.heardHarmonicsShare >= ${100 * WANTED_SHARE} %`,
    settings: {},
    expected: { value: 100 * WANTED_SHARE, unit: '%', basis: 'estimate' },
  };
}
