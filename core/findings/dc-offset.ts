import type { Measurements } from '../measure/measurements.js';
import type { StemLows } from '../measure/stem-lows.js';
import { dB_to_amplitude } from '../units/decibels.js';
import { valueOf } from '../units/reading.js';
import { cleanAddress } from './clean-address.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { EMPTY_PLACE, type Finding } from './finding.js';
import { sayFigure } from './say-figure.js';
import { severityOf } from './severity.js';
import { TOLERANCES } from './tolerances.js';

export const dcOffset: FindingDeclaration = {
  id: 'dc-offset',
  name: 'DC offset',
  help: 'The mean of a channel is more than −45 dBFS. Tolerance measured for this project: files without it read −57 or less.',
  leaveItWhen: 'the file is a single one-sided pulse whose mean belongs to it.',
  companions: ['rumble', 'no-headroom'],
  reads: ['stemLows'],

  find(measured: Measurements): Finding[] {
    return measured.stemLows.flatMap((stem) => {
      const level = valueOf(stem.dc_dBFS);
      return level !== null && level > TOLERANCES.dc_dBFS ? [findingOf(stem, level)] : [];
    });
  },

  unjudged: () => null,
};

function findingOf(stem: StemLows, level_dBFS: number): Finding {
  return {
    id: 'dc-offset',
    severity: severityOf(dB_to_amplitude(level_dBFS - TOLERANCES.dc_dBFS) - 1, 1),
    sentence: `${stem.file} stands off zero by ${sayFigure(level_dBFS, 'dBFS')}; that takes headroom and clicks at edits.`,
    where: { ...EMPTY_PLACE, files: [stem.file], bands_Hz: [0] },
    evidence: {
      role: stem.role,
      dc_dBFS: level_dBFS,
      meanLeft_FS: stem.meanLeft_FS,
      meanRight_FS: stem.meanRight_FS,
    },
    suggest: {
      stage: 'clean',
      address: cleanAddress(stem),
      wish: '',
      settings: { dc: true },
      expected: { value: 0, unit: 'FS', basis: 'estimate' },
    },
    leaveItWhen: dcOffset.leaveItWhen,
  };
}
