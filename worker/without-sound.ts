import type { Solution } from '../core/solve/solve-song.js';
import type { SolvedSong } from '../protocol/job-messages.js';

/** What the page is given of a solution: everything but its sound, which stays with the worker. */
export function withoutSound({
  treatment,
  stages,
  after,
  rows,
  harm,
  renders,
  stopped,
}: Solution): SolvedSong['solution'] {
  const silent = stages.map((stage) => ({ ...stage, solution: { ...stage.solution, output: null } }));
  return { treatment, stages: silent, after, rows, harm, renders, stopped };
}
