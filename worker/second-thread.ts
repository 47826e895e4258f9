import type { MeasureTasks } from '../protocol/measure-tasks.js';
import type { Reply } from '../protocol/questions.js';

/** Measures beside the thread that asks. What it cannot do is refused, and done by who asked. */
export interface MeasureHelper {
  ask<Task extends keyof MeasureTasks>(
    task: Task,
    ask: MeasureTasks[Task]['ask'],
  ): Promise<MeasureTasks[Task]['answer']>;
  end(): void;
}

interface Waiting {
  readonly answer: (value: never) => void;
  readonly refuse: (error: Error) => void;
}

/** A thread that is ended once the measuring is done, so that its copy of the song is let go. */
export class SecondThread implements MeasureHelper {
  private readonly waiting = new Map<number, Waiting>();
  private lastId = 0;

  constructor(private readonly worker: Worker) {
    worker.onmessage = ({ data }: MessageEvent<Reply<MeasureTasks>>) => this.hear(data);
    worker.onerror = () => this.lose();
  }

  ask<Task extends keyof MeasureTasks>(
    task: Task,
    ask: MeasureTasks[Task]['ask'],
  ): Promise<MeasureTasks[Task]['answer']> {
    const id = ++this.lastId;
    return new Promise((answer, refuse) => {
      this.waiting.set(id, { answer, refuse });
      // refused here too where the copy finds no room
      this.worker.postMessage({ id, task, ask });
    });
  }

  end(): void {
    this.worker.terminate();
    this.lose();
  }

  private hear(reply: Reply<MeasureTasks>): void {
    const waiting = this.waiting.get(reply.id);
    this.waiting.delete(reply.id);
    if (reply.kind === 'answer') waiting?.answer(reply.answer as never);
    else if (reply.kind === 'trouble') waiting?.refuse(new Error(reply.trouble.reason));
  }

  private lose(): void {
    for (const { refuse } of this.waiting.values()) refuse(new Error('the second thread ended'));
    this.waiting.clear();
  }
}
