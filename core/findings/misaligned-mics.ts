import type { BandSum, MeasuredAlignment, TrackAlignment } from '../measure/track-alignment.js';
import { isMeasured } from '../units/reading.js';
import type { Finding } from './finding.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

/** Two files of one source stand apart in time or polarity, and it costs lows. */
export const misalignedMics: FindingDeclaration = {
  id: 'misaligned-mics',
  name: 'misaligned mics',
  help:
    'Two files of one source lie 0.3 ms or more apart, or one is upside down, and putting it right gains 0.5 dB or more at 40 ' +
    'to 200 Hz. By whitened correlation; for sounds that differ only the distance of their onsets is told, and polarity is left.',
  leaveItWhen: 'the distance is part of the sound, such as a room track, or the two were set apart for width.',
  companions: ['cancelling-lows'],
  reads: ['trackAlignments'],
  find: ({ trackAlignments }) =>
    trackAlignments.flatMap((alignment) =>
      isMeasured(alignment.result) ? misalignedIn(alignment, alignment.result) : [],
    ),
  unjudged: ({ trackAlignments }) => {
    if (trackAlignments.length === 0) return 'no role has more than one file';
    const refused = trackAlignments.filter(({ result }) => !isMeasured(result));
    if (refused.length < trackAlignments.length) return null;
    return refused.map(({ file, result }) => `${file}: ${isMeasured(result) ? '' : result.reason}`).join('; ');
  },
};

function misalignedIn(alignment: TrackAlignment, result: MeasuredAlignment): Finding[] {
  const late_ms = Math.abs(result.delay_ms);
  const inverted = result.polarity === -1;
  const gain_dB = result.correctingGain_dB + result.nudgeGain_dB;
  if (!(late_ms >= TOLERANCES.trackDelay_ms || inverted) || gain_dB < TOLERANCES.correctingGain_dB) return [];
  const byGain = severityOf(gain_dB - TOLERANCES.correctingGain_dB, TOLERANCES.correctingGain_dB);
  const byDelay = severityOf(late_ms - TOLERANCES.trackDelay_ms, TOLERANCES.trackDelay_ms);
  const losing = losingBands(result.bands);
  return [
    {
      id: 'misaligned-mics',
      severity: inverted ? byGain : Math.min(byGain, byDelay),
      sentence: `${standing(alignment, result)}; ${lossInWords(losing, gain_dB)}.`,
      where: {
        files: [alignment.reference, alignment.file],
        hits_s: [],
        notes: [],
        bands_Hz: losing.map((band) => band.centre_Hz),
        times_s: [],
      },
      evidence: {
        role: alignment.role,
        reference: alignment.reference,
        file: alignment.file,
        method: result.method,
        delay_ms: result.delay_ms,
        polarity: result.polarity,
        correctingGain_dB: result.correctingGain_dB,
        nudge_ms: result.nudge_ms,
        nudgeGain_dB: result.nudgeGain_dB,
        correlationDelay_ms: alignment.correlation?.delay_ms ?? null,
        quality: alignment.correlation?.quality ?? null,
        coherence: alignment.coherence,
        onsetDistance_ms: alignment.onsets?.distance_ms ?? null,
        bands_Hz: result.bands.map((band) => band.centre_Hz),
        sumNow_dB: result.bands.map((band) => band.now_dB),
        sumAligned_dB: result.bands.map((band) => band.aligned_dB),
      },
      suggest: {
        stage: 'align',
        address: `${alignment.role}[${JSON.stringify(alignment.file)}].align`,
        wish: '',
        settings: {
          delay_ms: 0 - (result.delay_ms + result.nudge_ms),
          polarity: inverted ? 'inverted' : 'normal',
        },
        expected: { value: gain_dB, unit: 'dB', basis: 'estimate' },
      },
      leaveItWhen: misalignedMics.leaveItWhen,
    },
  ];
}

function standing({ file, reference }: TrackAlignment, { method, delay_ms, polarity }: MeasuredAlignment): string {
  const away = sayFigure(Math.abs(delay_ms), 'ms');
  const side = delay_ms > 0 ? 'behind' : 'ahead of';
  if (method === 'onsets') return `The onsets of ${file} stand ${away} ${side} those of ${reference}`;
  if (polarity === 1) return `${file} runs ${away} ${side} ${reference}`;
  if (Math.abs(delay_ms) < TOLERANCES.trackDelay_ms) return `${file} is upside down against ${reference}`;
  return `${file} is upside down and ${away} ${side} ${reference}`;
}

/** The bands around the largest loss that lose at least half as much, in a row. */
function losingBands(bands: readonly BandSum[]): readonly BandSum[] {
  const inLows = bands.filter((band) => band.centre_Hz < 220);
  const loss = (band: BandSum): number => band.aligned_dB - band.now_dB;
  let worst = 0;
  inLows.forEach((band, i) => {
    if (loss(band) > loss(inLows[worst]!)) worst = i;
  });
  if (inLows.length === 0) return [];
  const half = 0.5 * loss(inLows[worst]!);
  let first = worst;
  let last = worst;
  while (first > 0 && loss(inLows[first - 1]!) >= half) first--;
  while (last < inLows.length - 1 && loss(inLows[last + 1]!) >= half) last++;
  return inLows.slice(first, last + 1);
}

function lossInWords(losing: readonly BandSum[], gain_dB: number): string {
  const low = losing[0];
  const high = losing[losing.length - 1];
  const lost = `together they lose ${sayFigure(gain_dB, 'dB')} at 40 to ${sayFigure(200, 'Hz', 0)}`;
  if (low === undefined || high === undefined) return lost;
  return low === high
    ? `${lost}, most at ${sayFigure(low.centre_Hz, 'Hz', 0)}`
    : `${lost}, most between ${low.centre_Hz.toFixed(0)} and ${sayFigure(high.centre_Hz, 'Hz', 0)}`;
}
