import type { EvidenceContext, EvidencePanel } from './evidence-panel.js';
import { textOf } from './evidence-values.js';

/** A fault of a file is a sentence, not a figure: which file, and what it is. */
export function fileFaultWords({ finding }: EvidenceContext): EvidencePanel[] {
  const files = finding.where.files.join(', ');
  return [
    {
      heading: files === '' ? 'The file' : files,
      scope: textOf(finding, 'role'),
      axis: finding.sentence,
      describes: finding.sentence,
      height: () => 0,
      draw: () => ({ strokes: [], labels: [] }),
      table: {
        columns: [{ name: 'File' }, { name: 'Role' }, { name: 'Fault' }, { name: 'What it is' }],
        rows: [[files, textOf(finding, 'role'), textOf(finding, 'fault'), finding.sentence]],
      },
    },
  ];
}
