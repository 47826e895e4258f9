import type { StageId } from '../treatment/treatment.js';
import { solveCentre } from './solve-centre.js';
import { solveEven } from './solve-even.js';
import { solveGiven } from './solve-given.js';
import { solveHarmonics } from './solve-harmonics.js';
import { solveMakeRoom } from './solve-make-room.js';
import { solveOnset } from './solve-onset.js';
import { solveSaturate } from './solve-saturate.js';
import { solveSteady } from './solve-steady.js';
import { solveTrim } from './solve-trim.js';
import { solveWiden } from './solve-widen.js';
import type { StageSolver } from './stage-solver.js';

/** How each stage is solved. Split and join take what is given; the walk sees to them. */
export const SOLVERS: Readonly<Partial<Record<StageId, StageSolver>>> = {
  align: solveGiven,
  clean: solveGiven,
  even: solveEven,
  centre: solveCentre,
  steady: solveSteady,
  harmonics: solveHarmonics,
  saturate: solveSaturate,
  widen: solveWiden,
  onset: solveOnset,
  trim: solveTrim,
  'make-room': solveMakeRoom,
};

/** Stages whose amount is found by rendering again and again. */
export const SEARCHED: ReadonlySet<StageId> = new Set<StageId>(['harmonics', 'saturate']);

/** About how many renders each takes, for progress alone. */
export const USUAL_RENDERS: Readonly<Partial<Record<StageId, number>>> = {
  even: 1,
  centre: 2,
  steady: 1,
  harmonics: 7,
  saturate: 5,
  widen: 1,
  onset: 1,
  trim: 1,
  'make-room': 2,
};
