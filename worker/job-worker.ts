import type { JobTasks } from '../protocol/job-messages.js';
import type { Question } from '../protocol/questions.js';
import { JobDesk } from './job-desk.js';
import { QuestionLoop } from './question-loop.js';
import { SecondThread } from './second-thread.js';

declare const self: DedicatedWorkerGlobalScope;

const desk = new JobDesk({
  progress: (...how) => loop.progress(...how),
  tell: (told) => loop.tell(told),
  helper: () => (navigator.hardwareConcurrency < 2 ? null : new SecondThread(newMeasureWorker())),
});
const loop = new QuestionLoop<JobTasks>((reply, transfer) => self.postMessage(reply, transfer), desk, {
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
  atOnce: ['stop'],
  handedOver: (answer) =>
    answer !== null && 'zip' in answer && answer.zip !== null ? [answer.zip.buffer as ArrayBuffer] : [],
});
self.onmessage = ({ data }: MessageEvent<Question<JobTasks>>) => loop.hear(data);

function newMeasureWorker(): Worker {
  return new Worker(new URL('./measure-worker.ts', import.meta.url), { type: 'module' });
}
