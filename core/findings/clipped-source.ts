import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import { faultFinding } from './fault-finding.js';
import type { FindingDeclaration } from './finding-declaration.js';
import type { Finding } from './finding.js';

export const clippedSource: FindingDeclaration = {
  id: 'clipped-source',
  name: 'clipped source',
  help: 'Runs of samples of one file lie at its full scale: it was clipped before it came here, and nothing here mends that.',
  leaveItWhen: 'the clipping is part of the sound.',
  companions: ['file-fault', 'no-headroom'],
  reads: [],

  find(_measured: Measurements, stems: readonly Stem[]): Finding[] {
    return stems.flatMap((stem) =>
      stem.faults
        .filter((fault) => fault.id === 'clipped-source')
        .map((fault) => faultFinding('clipped-source', stem, fault, clippedSource.leaveItWhen)),
    );
  },

  unjudged: () => null,
};
