import { PlainError } from '../core/units/plain-error.js';
import type { SolveProgress } from '../core/solve/solve-watch.js';
import type { Question, Reply, TaskTable, Told, Trouble } from '../protocol/questions.js';

/** A desk has a method for every task. */
export type Desk<Tasks extends TaskTable<Tasks>> = {
  [Task in keyof Tasks]: (ask: Tasks[Task]['ask']) => Promise<Tasks[Task]['answer']>;
};

export interface LoopWays<Tasks extends TaskTable<Tasks>> {
  /** What each task does, in words, for what goes wrong. */
  readonly doing: Readonly<Record<keyof Tasks, string>>;
  /** Tasks that are answered at once, between the steps of longer work. */
  readonly atOnce: readonly (keyof Tasks)[];
  /** Arrays that were made for this answer alone: handed over, not copied. */
  handedOver(answer: Tasks[keyof Tasks]['answer']): ArrayBuffer[];
}

/** Answers the questions put to a thread, one after another. */
export class QuestionLoop<Tasks extends TaskTable<Tasks>> {
  private last: Promise<void> = Promise.resolve();
  private current = 0;

  constructor(
    private readonly say: (reply: Reply<Tasks>, transfer: ArrayBuffer[]) => void,
    private readonly desk: Desk<Tasks>,
    private readonly ways: LoopWays<Tasks>,
  ) {}

  hear(question: Question<Tasks>): void {
    if (this.ways.atOnce.includes(question.task)) void this.answer(question);
    else {
      this.last = this.last.then(() => {
        this.current = question.id;
        return this.answer(question);
      });
    }
  }

  /** Says how far what is under way has come. */
  readonly progress = (what: string, done: number, total: number, solving?: SolveProgress): void => {
    this.say({ id: this.current, kind: 'progress', what, done, total, solving: solving ?? null }, []);
  };

  /** Tells a part of the answer that is under way. */
  tell(told: Told<Tasks, keyof Tasks>): void {
    this.say({ id: this.current, kind: 'told', told }, []);
  }

  private async answer({ id, task, ask }: Question<Tasks>): Promise<void> {
    try {
      const answer = await this.desk[task](ask);
      this.say({ id, kind: 'answer', answer }, this.ways.handedOver(answer));
    } catch (error) {
      this.say({ id, kind: 'trouble', trouble: this.troubleOf(error, task) }, []);
    }
  }

  private troubleOf(error: unknown, task: keyof Tasks): Trouble {
    if (error instanceof PlainError) {
      const { subject, reason, remedy } = error;
      return { subject, reason, remedy };
    }
    const words = error instanceof Error ? error.message : String(error);
    return {
      subject: this.ways.doing[task],
      reason: `It stopped: ${words}.`,
      remedy: 'What you did is safe. Open the song again.',
    };
  }
}
