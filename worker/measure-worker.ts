import type { MeasureTasks } from '../protocol/measure-tasks.js';
import type { Question } from '../protocol/questions.js';
import { MeasureDesk } from './measure-desk.js';
import { QuestionLoop } from './question-loop.js';

declare const self: DedicatedWorkerGlobalScope;

const loop = new QuestionLoop<MeasureTasks>((reply, transfer) => self.postMessage(reply, transfer), new MeasureDesk(), {
  doing: {
    hear: 'Measuring',
    knowKick: 'Finding hits',
    learn: 'Measuring',
    measure: 'Measuring',
  },
  atOnce: [],
  handedOver: () => [],
});
self.onmessage = ({ data }: MessageEvent<Question<MeasureTasks>>) => loop.hear(data);
