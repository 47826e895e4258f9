import { PlainError } from '../core/units/plain-error.js';
import type { FromJob, JobTask, ToJob, Trouble } from '../protocol/job-messages.js';
import { JobDesk } from './job-desk.js';

declare const self: DedicatedWorkerGlobalScope;

let current = 0;
const desk = new JobDesk((what, done, total) => tell({ id: current, kind: 'progress', what, done, total }));

/** One question after another; sound is answered at once, between the steps of longer work. */
let last: Promise<void> = Promise.resolve();
self.onmessage = ({ data }: MessageEvent<ToJob>) => {
  if (data.task === 'sound') void answer(data);
  else last = last.then(() => answer(data));
};

async function answer(question: ToJob): Promise<void> {
  const { id, task } = question;
  if (task !== 'sound') current = id;
  try {
    const given = await (desk[task] as (ask: ToJob['ask']) => Promise<FromJobAnswer>).call(desk, question.ask);
    tell({ id, kind: 'answer', answer: given }, task === 'sound' || task === 'print' ? buffersOf(given) : []);
  } catch (error) {
    tell({ id, kind: 'trouble', trouble: troubleOf(error, task) });
  }
}

type FromJobAnswer = Extract<FromJob, { kind: 'answer' }>['answer'];

function tell(message: FromJob, transfer: ArrayBuffer[] = []): void {
  self.postMessage(message, transfer);
}

/** Arrays that the worker has made for this answer alone: handed over, not copied. */
function buffersOf(given: FromJobAnswer): ArrayBuffer[] {
  if (given !== null && 'zip' in given) return given.zip === null ? [] : [given.zip.buffer as ArrayBuffer];
  if (given === null || !('kick' in given)) return [];
  const blocks = [...given.kick, ...given.bass, ...given.rest];
  return [...new Set(blocks.flatMap(({ left, right }) => [left.buffer as ArrayBuffer, right.buffer as ArrayBuffer]))];
}

const DOING: Readonly<Record<JobTask, string>> = {
  list: 'Opening the song',
  inspect: 'Measuring',
  solve: 'Solving',
  print: 'Printing',
  match: 'Matching the level',
  loudness: 'Measuring a reference',
  save: 'Saving',
  sound: 'Playing',
};

function troubleOf(error: unknown, task: JobTask): Trouble {
  if (error instanceof PlainError) {
    const { subject, reason, remedy } = error;
    return { subject, reason, remedy };
  }
  const words = error instanceof Error ? error.message : String(error);
  return {
    subject: DOING[task],
    reason: `It stopped: ${words}.`,
    remedy: 'What you did is safe. Open the song again.',
  };
}
