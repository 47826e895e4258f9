import type { JobTasks } from '../protocol/job-messages.js';
import { JobDesk, type DeskWays } from './job-desk.js';
import { QuestionLoop } from './question-loop.js';

/**
 * The desk of a song behind its questions. What is asked about the sound (a match, the loudness of a reference) does not wait for
 * a treatment to be solved: it is answered between two renders, and leaves the solving as it is.
 */
export function jobLoop(
  say: (...reply: Parameters<ConstructorParameters<typeof QuestionLoop<JobTasks>>[0]>) => void,
  helper: DeskWays['helper'],
): QuestionLoop<JobTasks> {
  const desk = new JobDesk({
    helper,
    progress: (...how) => loop.progress(...how),
    tell: (told) => loop.tell(told),
  });
  const loop = new QuestionLoop<JobTasks>(say, desk, {
    doing: {
      list: 'Opening the song',
      inspect: 'Measuring',
      solve: 'Solving',
      print: 'Printing',
      match: 'Matching the level',
      loudness: 'Measuring a reference',
      stop: 'Stopping',
      save: 'Saving',
    },
    atOnce: ['stop', 'match', 'loudness'],
    handedOver: (answer) =>
      answer !== null && 'zip' in answer && answer.zip !== null ? [answer.zip.buffer as ArrayBuffer] : [],
  });
  return loop;
}
