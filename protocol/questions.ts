import type { SolveProgress } from '../core/solve/solve-watch.js';

/** What can be asked of a thread: a table of tasks, each with what is asked, what is told on the way, and what is answered. */
export type TaskTable<Tasks> = {
  readonly [Task in keyof Tasks]: { readonly ask: unknown; readonly told?: unknown; readonly answer: unknown };
};

/** What a task tells before it answers. */
export type Told<Tasks, Task extends keyof Tasks> = {
  [Name in Task]: Tasks[Name] extends { readonly told: infer Content } ? Content : never;
}[Task];

/** A question to a thread; answers bear its id. */
export type Question<Tasks extends TaskTable<Tasks>> = {
  [Task in keyof Tasks]: { readonly id: number; readonly task: Task; readonly ask: Tasks[Task]['ask'] };
}[keyof Tasks];

/** What went wrong, in the three parts of a plain error. */
export interface Trouble {
  readonly subject: string;
  readonly reason: string;
  readonly remedy: string;
}

/** What a thread says. */
export type Reply<Tasks extends TaskTable<Tasks>> =
  | {
      readonly id: number;
      readonly kind: 'progress';
      readonly what: string;
      readonly done: number;
      readonly total: number;
      /** While a treatment is solved: where the search stands. */
      readonly solving: SolveProgress | null;
    }
  | { readonly id: number; readonly kind: 'told'; readonly told: Told<Tasks, keyof Tasks> }
  | { readonly id: number; readonly kind: 'answer'; readonly answer: Tasks[keyof Tasks]['answer'] }
  | { readonly id: number; readonly kind: 'trouble'; readonly trouble: Trouble };
