import type { Finding } from '../../core/findings/finding.js';
import type { Measurements } from '../../core/measure/measurements.js';
import type { Drawing } from '../marks/drawing.js';

/** What a figure may look at. */
export interface EvidenceContext {
  readonly finding: Finding;
  readonly measured: Measurements;
  /** The treated song, where it has been solved: what is expected. */
  readonly after: Measurements | null;
}

/** One figure of the evidence, with the same as a table. */
export interface EvidencePanel {
  readonly heading: string;
  /** Plain words behind the heading: which hits, which window. */
  readonly scope: string;
  /** What stands on the axis, in its unit; a reading takes its place. */
  readonly axis: string;
  /** How to read the marks, one line under the figure; none where they need no key. */
  readonly key?: string;
  /** What the figure shows, in a sentence, for those who hear the page. */
  readonly describes: string;
  /** Height on paper of this width; `close` on a low window. */
  height(width: number, close: boolean): number;
  draw(width: number, height: number): Drawing;
  readonly table: EvidenceTable;
}

export interface EvidenceTable {
  readonly columns: readonly EvidenceColumn[];
  readonly rows: readonly (readonly string[])[];
}

export interface EvidenceColumn {
  readonly name: string;
  readonly numbers?: boolean;
}

/** The panels of one kind of finding, the most telling first. */
export interface EvidenceMaker {
  (context: EvidenceContext): EvidencePanel[];
}
