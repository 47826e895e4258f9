import type { Question } from '../protocol/questions.js';
import type { SoundTasks } from '../protocol/sound-request.js';
import { QuestionLoop } from './question-loop.js';
import { SoundDesk } from './sound-desk.js';

declare const self: DedicatedWorkerGlobalScope;

const loop = new QuestionLoop<SoundTasks>((reply, transfer) => self.postMessage(reply, transfer), new SoundDesk(), {
  doing: { open: 'Opening the song to be heard', correct: 'Playing', sound: 'Playing' },
  atOnce: ['sound'],
  handedOver(answer) {
    if (answer === null || !('kick' in answer)) return [];
    const blocks = [...answer.kick, ...answer.bass, ...answer.rest];
    return [...new Set(blocks.flatMap(({ left, right }) => [left.buffer as ArrayBuffer, right.buffer as ArrayBuffer]))];
  },
});
self.onmessage = ({ data }: MessageEvent<Question<SoundTasks>>) => loop.hear(data);
