import type { SolveProgress } from '../../core/solve/solve-watch.js';
import type { Question, Reply, TaskTable, Told, Trouble } from '../../protocol/questions.js';
import { timeLeft_s } from './time-left.js';

/** What work tells of itself: what is being done, and how far it is. */
export interface Work<Task = string> {
  readonly task: Task;
  readonly what: string;
  readonly done: number;
  readonly total: number;
  /** While a treatment is solved: where the search stands. */
  readonly solving: SolveProgress | null;
  /** Seconds that are left, where the pace tells them. */
  readonly left_s: number | null;
}

/** Work that is about to begin. */
export function workOf<Task>(task: Task, what: string): Work<Task> {
  return { task, what, done: 0, total: 1, solving: null, left_s: null };
}

/** Trouble that a thread reported, for the page to show in its place. */
export class JobTrouble extends Error {
  constructor(readonly trouble: Trouble) {
    super(`${trouble.subject}: ${trouble.reason} ${trouble.remedy}`);
    this.name = 'JobTrouble';
  }
}

export interface ClientWays<Tasks> {
  start(): Worker;
  /** What is said where the thread ends by itself. */
  readonly lost: Trouble;
  onWork?(work: Work<keyof Tasks>): void;
}

interface Waiting<Tasks> {
  readonly task: keyof Tasks;
  readonly begun_ms: number;
  readonly hear: (told: never) => void;
  readonly answer: (value: never) => void;
  readonly fail: (error: JobTrouble) => void;
}

/** Asks a thread, which is started with the first question. */
export class WorkerClient<Tasks extends TaskTable<Tasks>> {
  private worker: Worker | null = null;
  private readonly waiting = new Map<number, Waiting<Tasks>>();
  private lastId = 0;

  constructor(private readonly ways: ClientWays<Tasks>) {}

  /**
   * @param hear told what comes before the answer.
   * @throws JobTrouble with the plain reason where the thread cannot do it.
   */
  ask<Task extends keyof Tasks>(
    task: Task,
    ask: Tasks[Task]['ask'],
    hear: (told: Told<Tasks, Task>) => void = () => undefined,
  ): Promise<Tasks[Task]['answer']> {
    this.worker ??= this.start();
    const id = ++this.lastId;
    this.worker.postMessage({ id, task, ask } satisfies Question<Tasks>);
    const begun_ms = performance.now();
    return new Promise((answer, fail) => this.waiting.set(id, { task, begun_ms, hear, answer, fail }));
  }

  /** Ends all work at once. The thread lets go of its song. */
  stop(): void {
    this.worker?.terminate();
    this.worker = null;
    this.waiting.clear();
  }

  private start(): Worker {
    const worker = this.ways.start();
    worker.onmessage = ({ data }: MessageEvent<Reply<Tasks>>) => this.hear(data);
    worker.onerror = () => {
      const lost = [...this.waiting.values()];
      this.stop();
      for (const { fail } of lost) fail(new JobTrouble(this.ways.lost));
    };
    return worker;
  }

  private hear(message: Reply<Tasks>): void {
    const waiting = this.waiting.get(message.id);
    if (waiting === undefined) return;
    if (message.kind === 'progress') {
      const { what, done, total, solving } = message;
      const left_s = timeLeft_s(performance.now() - waiting.begun_ms, done, total);
      this.ways.onWork?.({ task: waiting.task, what, done, total, solving, left_s });
      return;
    }
    if (message.kind === 'told') {
      waiting.hear(message.told as never);
      return;
    }
    this.waiting.delete(message.id);
    if (message.kind === 'answer') waiting.answer(message.answer as never);
    else waiting.fail(new JobTrouble(message.trouble));
  }
}
