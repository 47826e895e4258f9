import type { FromJob, JobTask, JobTasks, Trouble } from '../../protocol/job-messages.js';

/** What work tells of itself: what is being done, and how far it is. */
export interface Work {
  readonly task: JobTask;
  readonly what: string;
  readonly done: number;
  readonly total: number;
}

/** Trouble that the worker reported, for the page to show in its place. */
export class JobTrouble extends Error {
  constructor(readonly trouble: Trouble) {
    super(`${trouble.subject}: ${trouble.reason} ${trouble.remedy}`);
    this.name = 'JobTrouble';
  }
}

interface Waiting {
  readonly task: JobTask;
  readonly answer: (value: never) => void;
  readonly fail: (error: JobTrouble) => void;
}

const LOST: Trouble = {
  subject: 'The measuring thread',
  reason: 'It ended by itself; the song may be too large for this browser.',
  remedy: 'What you decided is safe. Close other tabs and open the song again.',
};

/** Asks the worker that holds the song. */
export class JobClient {
  private worker: Worker | null = null;
  private readonly waiting = new Map<number, Waiting>();
  private lastId = 0;

  constructor(private readonly onWork: (work: Work) => void) {}

  /** @throws JobTrouble with the plain reason where the worker cannot do it. */
  ask<Task extends JobTask>(task: Task, ask: JobTasks[Task]['ask']): Promise<JobTasks[Task]['answer']> {
    this.worker ??= this.start();
    const id = ++this.lastId;
    this.worker.postMessage({ id, task, ask });
    return new Promise((answer, fail) => this.waiting.set(id, { task, answer, fail }));
  }

  /** Ends all work at once. The worker lets go of its song. */
  stop(): void {
    this.worker?.terminate();
    this.worker = null;
    this.waiting.clear();
  }

  private start(): Worker {
    const worker = new Worker(new URL('../../worker/job-worker.ts', import.meta.url), { type: 'module' });
    worker.onmessage = ({ data }: MessageEvent<FromJob>) => this.hear(data);
    worker.onerror = () => {
      const lost = [...this.waiting.values()];
      this.stop();
      for (const { fail } of lost) fail(new JobTrouble(LOST));
    };
    return worker;
  }

  private hear(message: FromJob): void {
    const waiting = this.waiting.get(message.id);
    if (waiting === undefined) return;
    if (message.kind === 'progress') {
      const { what, done, total } = message;
      this.onWork({ task: waiting.task, what, done, total });
      return;
    }
    this.waiting.delete(message.id);
    if (message.kind === 'answer') waiting.answer(message.answer as never);
    else waiting.fail(new JobTrouble(message.trouble));
  }
}
