import type { CentreMeasure, RoleCentre } from '../measure/centre.js';
import type { Role, Stem } from '../song/song.js';
import { isMeasured, valueOf, type Unmeasurable } from '../units/reading.js';
import { filesOf } from './files-of-role.js';
import type { FindingDeclaration } from './finding-declaration.js';
import type { EvidenceValue, Finding, Suggestion } from './finding.js';
import { sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

/** Lows that are lost when the channels are added to one. */
export const wideLows: FindingDeclaration = {
  id: 'wide-lows',
  name: 'wide lows',
  help:
    'Kick, bass or the sum of all stems loses more than 1 dB at 20 to 120 Hz when left and right are added; the rest only where ' +
    'its lows lie within 20 dB of kick and bass. Balance alone is said as "off centre". Tolerance calibrated for this project.',
  leaveItWhen: 'the song will never be heard in mono and the width of the lows is the sound.',
  companions: [],
  reads: ['centre'],
  find: ({ centre }, stems) => (isMeasured(centre) ? wideIn(centre, stems) : []),
  unjudged: ({ centre }) => (isMeasured(centre) ? null : centre.reason),
};

type Part = 'kick' | 'bass' | 'rest' | 'sum';

/** One finding for each role that is wide; one for the sum where no single role is. */
function wideIn(centre: CentreMeasure, stems: readonly Stem[]): Finding[] {
  const roles: Part[] = centre.restCounts ? ['kick', 'bass', 'rest'] : ['kick', 'bass'];
  const wide = roles.flatMap((part) => findingFor(part, centre[part], centre, stems));
  return wide.length > 0 ? wide : findingFor('sum', centre.sum, centre, stems);
}

function findingFor(
  part: Part,
  measured: RoleCentre | Unmeasurable,
  centre: CentreMeasure,
  stems: readonly Stem[],
): Finding[] {
  if (!isMeasured(measured)) return [];
  const loss_dB = valueOf(measured.foldDownLoss_dB)!;
  if (!(loss_dB > TOLERANCES.foldDownLoss_dB)) return [];
  const summed: readonly Role[] = part === 'sum' ? ['kick', 'bass', 'rest'] : [part];
  return [
    {
      id: 'wide-lows',
      severity: severityOf(loss_dB - TOLERANCES.foldDownLoss_dB, TOLERANCES.foldDownLoss_dB),
      sentence: sentenceOf(part, measured, loss_dB, centre.monoFrequency_Hz),
      where: {
        files: filesOf(stems, ...summed),
        hits_s: [],
        notes: [],
        bands_Hz: measured.bands
          .filter(
            (band) =>
              band.centre_Hz < 1.1 * centre.monoFrequency_Hz && (band.loss_dB ?? 0) > TOLERANCES.foldDownLoss_dB,
          )
          .map((band) => band.centre_Hz),
        times_s: wideTimes(measured),
      },
      evidence: evidenceOf(part, measured, loss_dB, centre),
      suggest: suggestionFor(part, measured, centre.monoFrequency_Hz),
      leaveItWhen: wideLows.leaveItWhen,
    },
  ];
}

function sentenceOf(part: Part, measured: RoleCentre, loss_dB: number, mono_Hz: number): string {
  const what = part === 'sum' ? 'the sum of all stems' : `the ${part}`;
  const lost = `${sayFigure(loss_dB, 'dB')} lost in mono at 20 to ${sayFigure(mono_Hz, 'Hz', 0)}`;
  if (measured.correlation >= TOLERANCES.offCentreCorrelation) {
    const side = measured.leftOverRight_dB > 0 ? 'left' : 'right';
    const away = sayFigure(Math.abs(measured.leftOverRight_dB), 'dB');
    return `The lows of ${what} stand off centre by ${away}, to the ${side}; ${lost}.`;
  }
  if (measured.correlation < TOLERANCES.opposedCorrelation) {
    const below = measured.opposedBelow_Hz === null ? '' : ` below ${sayFigure(measured.opposedBelow_Hz, 'Hz', 0)}`;
    const turned = part === 'bass' ? ' One side is turned first.' : '';
    return `Left and right of ${what} work against each other${below}; ${lost}.${turned}`;
  }
  const worst = worstBand_Hz(measured, mono_Hz);
  const most = worst === null ? '' : `, most at ${sayFigure(worst, 'Hz', 0)}`;
  return `The lows of ${what} are wide: ${lost}${most}.`;
}

function worstBand_Hz({ bands }: RoleCentre, mono_Hz: number): number | null {
  const inLows = bands.filter((band) => band.loss_dB !== null && band.centre_Hz < 1.1 * mono_Hz);
  const worst = inLows.reduce((most, band) => Math.max(most, band.loss_dB!), 0);
  return inLows.find((band) => band.loss_dB === worst)?.centre_Hz ?? null;
}

/** Only the bass has a centre in its path. */
function suggestionFor(part: Part, measured: RoleCentre, mono_Hz: number): Suggestion {
  if (part !== 'bass') return { stage: 'none', address: '', wish: '', settings: {}, expected: null };
  const opposed = measured.correlation < TOLERANCES.opposedCorrelation;
  return {
    stage: 'centre',
    address: 'bass.centre',
    wish: 'centre.foldDownLoss_dB <= 1',
    settings: {
      corner_Hz: mono_Hz,
      ...(opposed ? { turn: 'right', turnCorner_Hz: measured.opposedBelow_Hz ?? 250 } : {}),
    },
    expected: { value: TOLERANCES.foldDownLoss_dB, unit: 'dB', basis: 'estimate' },
  };
}

function evidenceOf(
  part: Part,
  measured: RoleCentre,
  loss_dB: number,
  centre: CentreMeasure,
): Record<string, EvidenceValue> {
  return {
    part,
    monoFrequency_Hz: centre.monoFrequency_Hz,
    foldDownLoss_dB: loss_dB,
    tolerance_dB: TOLERANCES.foldDownLoss_dB,
    correlation: measured.correlation,
    leftOverRight_dB: measured.leftOverRight_dB,
    opposedBelow_Hz: measured.opposedBelow_Hz,
    lows_dBFS: measured.lows_dBFS,
    worstWindow_dB: measured.worstWindow_dB,
    p95Window_dB: measured.p95Window_dB,
    bands_Hz: measured.bands.map((band) => band.centre_Hz),
    bandLoss_dB: measured.bands.map((band) => band.loss_dB),
    bandCorrelation: measured.bands.map((band) => band.correlation),
    windowTimes_s: measured.windows.time_s,
    windowLoss_dB: measured.windows.loss_dB,
    sumFoldDownLoss_dB: isMeasured(centre.sum) ? valueOf(centre.sum.foldDownLoss_dB) : null,
  };
}

/** Stretches of song time whose 1 s windows lose more than the tolerance. */
function wideTimes({ windows }: RoleCentre): (readonly [number, number])[] {
  const stretches: [number, number][] = [];
  windows.time_s.forEach((time_s, i) => {
    if (windows.loss_dB[i]! <= TOLERANCES.foldDownLoss_dB) return;
    const last = stretches[stretches.length - 1];
    if (last !== undefined && time_s <= last[1]) last[1] = time_s + 1;
    else stretches.push([time_s, time_s + 1]);
  });
  return stretches;
}
