import { cancellingLows } from './cancelling-lows.js';
import { clippedSource } from './clipped-source.js';
import { coveredKick } from './covered-kick.js';
import { dcOffset } from './dc-offset.js';
import { fileFault } from './file-fault.js';
import type { FindingDeclaration } from './finding-declaration.js';
import { lostOnSmallSpeakers } from './lost-on-small-speakers.js';
import { misalignedMics } from './misaligned-mics.js';
import { noHeadroom } from './no-headroom.js';
import { resonantNote } from './resonant-note.js';
import { rumble } from './rumble.js';
import { unevenNotes } from './uneven-notes.js';
import { wideLows } from './wide-lows.js';

/** Every finding there is, one line each. */
export const FINDINGS: readonly FindingDeclaration[] = [
  coveredKick,
  cancellingLows,
  misalignedMics,
  wideLows,
  unevenNotes,
  resonantNote,
  lostOnSmallSpeakers,
  rumble,
  dcOffset,
  noHeadroom,
  fileFault,
  clippedSource,
];
