import type { FileFault, Stem } from '../song/song.js';
import { EMPTY_PLACE, type Finding, type FindingId } from './finding.js';

/** A fault that was met when a file was read; nothing of the treatment mends it, so it counts one tolerance. */
export function faultFinding(id: FindingId, stem: Stem, fault: FileFault, leaveItWhen: string): Finding {
  return {
    id,
    severity: 1,
    sentence: fault.sentence,
    where: { ...EMPTY_PLACE, files: [stem.file] },
    evidence: { fault: fault.id, role: stem.role },
    suggest: { stage: 'none', address: '', wish: '', settings: {}, expected: null },
    leaveItWhen,
  };
}
