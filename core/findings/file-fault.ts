import type { Measurements } from '../measure/measurements.js';
import type { Stem } from '../song/song.js';
import { faultFinding } from './fault-finding.js';
import type { FindingDeclaration } from './finding-declaration.js';
import type { Finding } from './finding.js';

export const fileFault: FindingDeclaration = {
  id: 'file-fault',
  name: 'file faults',
  help: 'A file is not what it says it is, or not what a stem should be: its length, its samples, a silent side, a duplicate.',
  leaveItWhen: 'the file is known to be like that and sounds right.',
  companions: ['clipped-source', 'dc-offset'],
  reads: [],

  find(_measured: Measurements, stems: readonly Stem[]): Finding[] {
    return stems.flatMap((stem) =>
      stem.faults
        .filter((fault) => fault.id !== 'clipped-source')
        .map((fault) => faultFinding('file-fault', stem, fault, fileFault.leaveItWhen)),
    );
  },

  unjudged: () => null,
};
