import type { JobTasks } from '../protocol/job-messages.js';
import type { Question } from '../protocol/questions.js';
import { jobLoop } from './job-loop.js';
import { SecondThread } from './second-thread.js';

declare const self: DedicatedWorkerGlobalScope;

const loop = jobLoop(
  (reply, transfer) => self.postMessage(reply, transfer),
  () => (navigator.hardwareConcurrency < 2 ? null : new SecondThread(newMeasureWorker())),
);
self.onmessage = ({ data }: MessageEvent<Question<JobTasks>>) => loop.hear(data);

function newMeasureWorker(): Worker {
  return new Worker(new URL('./measure-worker.ts', import.meta.url), { type: 'module' });
}
