import type { FindingId } from '../../core/findings/finding.js';
import { agreementOfHits } from './agreement-of-hits.js';
import { anyEvidence } from './any-evidence.js';
import type { EvidenceContext, EvidenceMaker, EvidencePanel } from './evidence-panel.js';
import { fileFaultWords } from './file-fault-words.js';
import { fileLows } from './file-lows.js';
import { foldDownLoss } from './fold-down-loss.js';
import { headroomBlocks } from './headroom-blocks.js';
import { heardHarmonics } from './heard-harmonics.js';
import { hitsByNote } from './hits-by-note.js';
import { kickOverBass } from './kick-over-bass.js';
import { notesByPitch } from './notes-by-pitch.js';
import { sumAgainstParts } from './sum-against-parts.js';

/** The figures of each finding. One that is not named here is shown by what it declares. */
const FIGURES: Partial<Record<FindingId, readonly EvidenceMaker[]>> = {
  'covered-kick': [kickOverBass, hitsByNote],
  'cancelling-lows': [agreementOfHits],
  'misaligned-mics': [sumAgainstParts],
  'wide-lows': [foldDownLoss],
  'uneven-notes': [notesByPitch],
  'resonant-note': [notesByPitch],
  'lost-on-small-speakers': [heardHarmonics],
  rumble: [fileLows],
  'no-headroom': [headroomBlocks],
  'file-fault': [fileFaultWords],
  'clipped-source': [fileFaultWords],
};

/** Every figure of a finding; never none, as long as the finding brings any evidence. */
export function evidenceOf(context: EvidenceContext): EvidencePanel[] {
  const makers: readonly EvidenceMaker[] = FIGURES[context.finding.id] ?? [];
  const panels = makers.flatMap((make) => make(context));
  return panels.length > 0 ? panels : anyEvidence(context);
}
