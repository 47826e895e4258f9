import { PlainError } from '../units/plain-error.js';
import { align } from './align.js';
import { centre } from './centre.js';
import { clean } from './clean.js';
import { even } from './even.js';
import { harmonics } from './harmonics.js';
import { join } from './join.js';
import { makeRoom } from './make-room.js';
import { onset } from './onset.js';
import { saturate } from './saturate.js';
import { split } from './split.js';
import type { StageDeclaration } from './stage.js';
import { steady } from './steady.js';
import type { StageId } from './treatment.js';
import { trim } from './trim.js';
import { widen } from './widen.js';

/** Every stage there is, in the signal's order. A new stage is its own file and one line here. */
export const STAGES: readonly StageDeclaration[] = [
  align,
  clean,
  even,
  centre,
  split,
  steady,
  harmonics,
  saturate,
  widen,
  onset,
  join,
  trim,
  makeRoom,
];

export function hasStage(id: StageId): boolean {
  return STAGES.some((stage) => stage.id === id);
}

/** @throws PlainError where no such stage is known. */
export function declarationOf(id: StageId): StageDeclaration {
  const declaration = STAGES.find((stage) => stage.id === id);
  if (declaration === undefined) {
    throw new PlainError(
      `stage ${id}`,
      'is not known.',
      `Known stages: ${STAGES.map((stage) => stage.id).join(', ')}.`,
    );
  }
  return declaration;
}
