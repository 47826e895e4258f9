import type { HeadroomMeasure } from '../measure/headroom.js';
import type { Measurements } from '../measure/measurements.js';
import { valueOf } from '../units/reading.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { EMPTY_PLACE, type Finding } from './finding.js';
import { sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

export const noHeadroom: FindingDeclaration = {
  id: 'no-headroom',
  name: 'no headroom',
  help:
    'The sum of all stems peaks above −1 dBTP (EBU R 128) and the lows cost 3 dB of peak level or more (measured for this ' +
    'project; songs delivered in range peak at −1.6 dBTP or lower).',
  leaveItWhen: 'the stems are 32-bit float and the sum is turned down before it is printed.',
  companions: ['covered-kick', 'uneven-notes', 'resonant-note', 'cancelling-lows', 'wide-lows', 'clipped-source'],
  reads: ['headroom'],

  find({ headroom }: Measurements): Finding[] {
    if (headroom.kind !== 'measured') return [];
    const peak = valueOf(headroom.truePeak_dBTP);
    const cost = valueOf(headroom.cost_dB);
    if (peak === null || cost === null) return [];
    const fires = peak > TOLERANCES.truePeak_dBTP && cost >= TOLERANCES.lowsCost_dB;
    return fires ? [findingOf(headroom, peak, cost)] : [];
  },

  unjudged: ({ headroom }: Measurements) => (headroom.kind === 'unmeasurable' ? headroom.reason : null),
};

function findingOf(headroom: HeadroomMeasure, peak: number, cost: number): Finding {
  const over = peak - TOLERANCES.truePeak_dBTP;
  return {
    id: 'no-headroom',
    severity: severityOf(cost - TOLERANCES.lowsCost_dB, TOLERANCES.lowsCost_dB),
    sentence:
      `All stems together peak at ${sayFigure(peak, 'dBTP')}, and the lows cost ${sayFigure(cost, 'dB')} of that; ` +
      `the sum has to come down by ${sayFigure(over, 'dB')}, or the lows do.`,
    where: { ...EMPTY_PLACE, bands_Hz: [120], times_s: [[headroom.loudest_s, headroom.loudest_s + 0.4]] },
    evidence: {
      truePeak_dBTP: peak,
      left_dB: valueOf(headroom.left_dB),
      cost_dB: cost,
      integrated_LUFS: valueOf(headroom.integrated_LUFS),
      blockStart_s: headroom.blocks.map((block) => block.start_s),
      blockPeak_dBTP: headroom.blocks.map((block) => block.peak_dBTP),
      blockCost_dB: headroom.blocks.map((block) => block.cost_dB),
    },
    suggest: { stage: 'none', address: '', wish: '', settings: {}, expected: null },
    leaveItWhen: noHeadroom.leaveItWhen,
  };
}
