import { clippedSource } from './clipped-source.js';
import { dcOffset } from './dc-offset.js';
import { fileFault } from './file-fault.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { lostOnSmallSpeakers } from './lost-on-small-speakers.js';
import { noHeadroom } from './no-headroom.js';
import { resonantNote } from './resonant-note.js';
import { rumble } from './rumble.js';
import { unevenNotes } from './uneven-notes.js';

/** Every finding there is, one line each. */
export const FINDINGS: readonly FindingDeclaration[] = [
  unevenNotes,
  resonantNote,
  lostOnSmallSpeakers,
  rumble,
  dcOffset,
  noHeadroom,
  fileFault,
  clippedSource,
];
