import type { ClearanceMeasure, HitClearance } from '../measure/clearance.js';
import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import { nearestNote } from '../units/notes.js';
import { isMeasured, valueOf } from '../units/reading.js';
import { filesOf } from './files-of-role.js';
import type { FindingDeclaration } from './finding-declaration.js';
import type { EvidenceValue, Finding } from './finding.js';
import { sayCount, sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

/** The most that make room cuts unless more is asked for. */
const LARGEST_CUT_dB = 6;
/** What a cut of 1 dB, an octave wide at the contested band, gives in clearance (measured for this project: 0.7..0.9). */
const CLEARED_PER_CUT = 0.8;

/** The bass covers the body of the kick. */
export const coveredKick: FindingDeclaration = {
  id: 'covered-kick',
  name: 'covered kick',
  help:
    'The kick stands less than 2 dB over the bass in the bands that make it, on a fifth of the hits or more (at least four). ' +
    'Clearance per hit in third octaves over the first 150 ms; tolerances calibrated for this project.',
  leaveItWhen: 'the kick is meant to be felt under the bass, or its attack at 2 to 4 kHz already carries the beat.',
  companions: ['uneven-notes', 'resonant-note', 'cancelling-lows'],
  reads: ['known', 'clearance'],
  find: (measured, stems) => (isMeasured(measured.clearance) ? coveredIn(measured.clearance, measured, stems) : []),
  unjudged: ({ clearance }) => {
    if (!isMeasured(clearance)) return clearance.reason;
    return clearance.countedHits < TOLERANCES.hits
      ? `too few hits to judge: ${clearance.countedHits}, at least ${TOLERANCES.hits} are needed`
      : null;
  },
};

function coveredIn(clearance: ClearanceMeasure, measured: Measurements, stems: readonly Stem[]): Finding[] {
  const { countedHits, coveredHits } = clearance;
  const share = coveredHits / countedHits;
  if (countedHits < TOLERANCES.hits || coveredHits < TOLERANCES.hits || share < TOLERANCES.coveredShare) return [];
  const counted = clearance.hits.filter((hit) => !hit.ghost && hit.clearance_dB !== null);
  const covered = counted.filter((hit) => hit.covered);
  const contested_Hz = valueOf(clearance.contested_Hz);
  const beyondReach = covered.filter((hit) => hit.clearance_dB! < reachable_dB).length;
  return [
    {
      id: 'covered-kick',
      severity: severityOf(share - TOLERANCES.coveredShare, TOLERANCES.coveredShare),
      sentence: sentenceOf(clearance, covered.length, counted.length, beyondReach),
      where: {
        files: filesOf(stems, 'kick', 'bass'),
        hits_s: covered.map((hit) => hit.time_s),
        notes: notesUnder(covered, measured),
        bands_Hz: contested_Hz === null ? [] : [contested_Hz],
        times_s: [],
      },
      evidence: evidenceOf(clearance, counted, share),
      suggest: {
        stage: 'make-room',
        address: 'bass.make-room',
        wish: 'clearance.share2dB >= 90 %',
        settings: {},
        expected: { value: (100 * (countedHits - beyondReach)) / countedHits, unit: '%', basis: 'estimate' },
      },
      leaveItWhen: coveredKick.leaveItWhen,
    },
  ];
}

/** Hits under this stay covered after the largest cut. */
const reachable_dB = TOLERANCES.covered_dB - CLEARED_PER_CUT * LARGEST_CUT_dB;

function sentenceOf(clearance: ClearanceMeasure, covered: number, counted: number, beyondReach: number): string {
  const parts = [`The bass covers the body of the kick on ${covered} of ${sayCount(counted, 'hit')}.`];
  const most = clearance.notes[0];
  if (most !== undefined && most.covered >= 0.5 * covered) {
    parts.push(
      most.covered === covered
        ? `All of them fall on ${most.name}.`
        : `${most.covered} of the ${covered} fall on ${most.name}.`,
    );
  }
  if (clearance.coveredByRest > 0) {
    parts.push(`The rest covers ${sayCount(clearance.coveredByRest, 'more hit', 'more hits')}.`);
  }
  if (beyondReach > 0.1 * counted) {
    const cut = sayFigure(LARGEST_CUT_dB, 'dB', 0);
    parts.push(`The bass is too loud on ${sayCount(beyondReach, 'hit')}: a cut of ${cut} would not clear them.`);
  }
  return parts.join(' ');
}

function notesUnder(covered: readonly HitClearance[], { known }: Measurements): { name: string; start_s: number }[] {
  const indices = new Set(covered.flatMap((hit) => (hit.note === null ? [] : [hit.note])));
  return [...indices].map((index) => {
    const { frequency_Hz, start_s } = known.notes[index]!;
    return { name: nearestNote(frequency_Hz).name, start_s };
  });
}

function evidenceOf(
  clearance: ClearanceMeasure,
  counted: readonly HitClearance[],
  share: number,
): Record<string, EvidenceValue> {
  const { bands, notes } = clearance;
  const p10_dB = valueOf(clearance.p10_dB);
  return {
    coveredShare: share,
    toleranceShare: TOLERANCES.coveredShare,
    tolerance_dB: TOLERANCES.covered_dB,
    median_dB: valueOf(clearance.median_dB),
    p10_dB,
    contested_Hz: valueOf(clearance.contested_Hz),
    kickOverBass_dB: valueOf(clearance.energyRatio_dB),
    cutEstimate_dB: p10_dB === null ? null : cutFor(p10_dB),
    hitTimes_s: counted.map((hit) => hit.time_s),
    hitClearance_dB: counted.map((hit) => hit.clearance_dB),
    ghostHits_s: clearance.hits.filter((hit) => hit.ghost).map((hit) => hit.time_s),
    bands_Hz: bands.map((band) => band.centre_Hz),
    bandMargin_dB: bands.map((band) => band.margin_dB),
    bandP10_dB: bands.map((band) => band.p10_dB),
    bandP90_dB: bands.map((band) => band.p90_dB),
    bandWeight: bands.map((band) => band.weight),
    bandOverlap: bands.map((band) => band.overlap),
    noteNames: notes.map((note) => note.name),
    noteHits: notes.map((note) => note.hits),
    noteCoveredHits: notes.map((note) => note.covered),
    overBassAndRestMedian_dB: valueOf(clearance.overBassAndRest?.median_dB),
    overRestMedian_dB: valueOf(clearance.overRest?.median_dB),
    coveredByRestHits: clearance.coveredByRest,
    bassOverKickMedian_dB: valueOf(clearance.bassOverKick.median_dB),
    bassOverKickShare2dB: valueOf(clearance.bassOverKick.share2dB),
  };
}

/** Depth that lifts the lowest tenth to the tolerance, at most the cap. */
function cutFor(p10_dB: number): number {
  return Math.max(0, Math.min(LARGEST_CUT_dB, (TOLERANCES.covered_dB - p10_dB) / CLEARED_PER_CUT));
}
