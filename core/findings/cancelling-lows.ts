import type { AgreementMeasure } from '../measure/agreement.js';
import type { SharedMend } from '../measure/shared-mend.js';
import type { Stem } from '../song/song.js';
import { isMeasured, valueOf } from '../units/reading.js';
import { filesOf } from './files-of-role.js';
import type { FindingDeclaration } from './finding-declaration.js';
import type { Finding } from './finding.js';
import { sayCount, sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

/** Kick and bass take energy from each other, and one polarity or shift common to all hits mends it. */
export const cancellingLows: FindingDeclaration = {
  id: 'cancelling-lows',
  name: 'cancelling lows',
  help:
    'Kick and bass lose more than 1 dB at 30 to 150 Hz in the middle hit, or more than 2 dB on a quarter of the hits, and one ' +
    'polarity and shift common to all gains 1 dB or more (0.5 dB or more on three hits of four, at least eight hits). ' +
    'Tolerances calibrated for this project.',
  leaveItWhen:
    'the part is played, so that the phase differs with each note, or the shift moves the groove by more than 5 ms.',
  companions: ['covered-kick', 'misaligned-mics'],
  reads: ['agreement'],
  find: ({ agreement }, stems) => (isMeasured(agreement) ? cancellingIn(agreement, stems) : []),
  unjudged: ({ agreement }) => {
    if (!isMeasured(agreement)) return agreement.reason;
    if (agreement.countedHits < TOLERANCES.hits) {
      return `too few hits to judge: ${agreement.countedHits}, at least ${TOLERANCES.hits} are needed`;
    }
    const median_dB = valueOf(agreement.median_dB)!;
    return loses(agreement)
      ? `kick and bass lose energy (${sayFigure(median_dB, 'dB')} in the middle hit), but no one shift or polarity common to all hits mends it`
      : null;
  },
};

function loses(agreement: AgreementMeasure): boolean {
  return (
    valueOf(agreement.median_dB)! < TOLERANCES.agreement_dB ||
    valueOf(agreement.shareUnderMinus2dB)! >= TOLERANCES.shareUnderMinus2dB
  );
}

function cancellingIn(agreement: AgreementMeasure, stems: readonly Stem[]): Finding[] {
  const mend = agreement.sharedMend;
  if (mend === null || !mend.rulePasses || !loses(agreement)) return [];
  const median_dB = valueOf(agreement.median_dB)!;
  const share = valueOf(agreement.shareUnderMinus2dB)!;
  const counted = agreement.hits.filter((hit) => hit.counts);
  const low = counted.filter((hit) => hit.agreement_dB! < -2);
  return [
    {
      id: 'cancelling-lows',
      severity: Math.max(
        severityOf(TOLERANCES.agreement_dB - median_dB, -TOLERANCES.agreement_dB),
        severityOf(share - TOLERANCES.shareUnderMinus2dB, TOLERANCES.shareUnderMinus2dB),
      ),
      sentence:
        `Kick and bass cancel at 30 to ${sayFigure(150, 'Hz', 0)}: ${sayFigure(median_dB, 'dB')} in the middle hit, ` +
        `under ${sayFigure(-2, 'dB', 0)} on ${low.length} of ${sayCount(counted.length, 'hit')}. ` +
        `${mendInWords(mend)} gains ${sayFigure(mend.medianGain_dB, 'dB')}.`,
      where: {
        files: filesOf(stems, 'kick', 'bass'),
        hits_s: low.map((hit) => hit.time_s),
        notes: [],
        bands_Hz: [30, 150],
        times_s: [],
      },
      evidence: {
        median_dB,
        p10_dB: valueOf(agreement.p10_dB),
        overall_dB: valueOf(agreement.overall_dB),
        shareUnderMinus2dB: share,
        tolerance_dB: TOLERANCES.agreement_dB,
        commonDelay_ms: mend.delay_ms,
        commonPolarity: mend.polarity,
        commonGain_dB: mend.medianGain_dB,
        commonGainP25_dB: mend.p25Gain_dB,
        shareGaining: mend.shareGaining,
        hitTimes_s: counted.map((hit) => hit.time_s),
        hitAgreement_dB: counted.map((hit) => hit.agreement_dB),
        hitBound_dB: counted.map((hit) => hit.bound_dB),
        hitGain_dB: counted.map((hit) => hit.gain_dB),
      },
      suggest: {
        stage: 'align',
        address: 'bass.align',
        wish: 'agreement.median_dB >= -1',
        settings: { delay_ms: mend.delay_ms, polarity: mend.polarity === -1 ? 'inverted' : 'normal' },
        expected: { value: median_dB + mend.medianGain_dB, unit: 'dB', basis: 'estimate' },
      },
      leaveItWhen: cancellingLows.leaveItWhen,
    },
  ];
}

function mendInWords({ polarity, delay_ms }: SharedMend): string {
  const shift = `moving it ${sayFigure(Math.abs(delay_ms), 'ms')} ${delay_ms > 0 ? 'later' : 'ahead'}`;
  if (polarity === 1) return `${shift.replace('moving it', 'Moving the bass')}`;
  return delay_ms === 0 ? 'Turning the polarity of the bass' : `Turning the polarity of the bass and ${shift}`;
}
