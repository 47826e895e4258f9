import type { JobTasks } from '../protocol/job-messages.js';
import type { Question } from '../protocol/questions.js';
import { JobDesk } from './job-desk.js';
import { QuestionLoop } from './question-loop.js';

declare const self: DedicatedWorkerGlobalScope;

const desk = new JobDesk((what, done, total) => loop.progress(what, done, total));
const loop = new QuestionLoop<JobTasks>((reply, transfer) => self.postMessage(reply, transfer), desk, {
  doing: {
    list: 'Opening the song',
    inspect: 'Measuring',
    solve: 'Solving',
    print: 'Printing',
    match: 'Matching the level',
    loudness: 'Measuring a reference',
    save: 'Saving',
  },
  atOnce: [],
  handedOver: (answer) =>
    answer !== null && 'zip' in answer && answer.zip !== null ? [answer.zip.buffer as ArrayBuffer] : [],
});
self.onmessage = ({ data }: MessageEvent<Question<JobTasks>>) => loop.hear(data);
