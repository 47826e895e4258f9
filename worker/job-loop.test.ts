import assert from 'node:assert/strict';
import { test } from 'node:test';
import { decided } from '../core/session/decisions.js';
import { emptySession } from '../core/session/session-format.js';
import type { JobTasks, SolvedSong } from '../protocol/job-messages.js';
import type { Question, Reply } from '../protocol/questions.js';
import { shortDemoFiles } from '../tests/songs/short-demo-files.js';
import { jobLoop } from './job-loop.js';

/** A thread's loop with one song in it, asked by messages as the page does. */
class AskedLoop {
  /** Tasks in the order in which they were answered. */
  readonly answered: string[] = [];
  private readonly waiting = new Map<number, (answer: unknown) => void>();
  private readonly messages = new MessageChannel();
  private lastId = 0;
  onProgress: () => void = () => undefined;

  constructor() {
    const loop = jobLoop(
      (reply) => this.hear(reply),
      () => null,
    );
    this.messages.port1.onmessage = ({ data }) => loop.hear(data as Question<JobTasks>);
  }

  ask<Task extends keyof JobTasks>(task: Task, ask: JobTasks[Task]['ask']): Promise<JobTasks[Task]['answer']> {
    const id = ++this.lastId;
    return new Promise((done) => {
      this.waiting.set(id, (answer) => {
        this.answered.push(task);
        done(answer as JobTasks[Task]['answer']);
      });
      this.messages.port2.postMessage({ id, task, ask });
    });
  }

  close(): void {
    this.messages.port1.close();
  }

  private hear(reply: Reply<JobTasks>): void {
    if (reply.kind === 'progress') this.onProgress();
    if (reply.kind === 'answer') this.waiting.get(reply.id)?.(reply.answer);
    assert.notEqual(reply.kind, 'trouble');
  }
}

const soundOf = ({ solution: { treatment, renders, rows } }: SolvedSong) => ({ treatment, renders, rows });

test('a match and a loudness asked while a treatment is solved are answered before it, and leave it as it is', async () => {
  const loop = new AskedLoop();
  try {
    await loop.ask('list', { source: { kind: 'files', name: 'Ballast', files: shortDemoFiles } });
    const stems = await loop.ask('inspect', { session: emptySession(), roles: [] });
    const session = decided(stems, { accept: ['lost-on-small-speakers'] }, []);
    const undisturbed = await loop.ask('solve', { session });
    // so that the same is solved once more
    assert.equal(await loop.ask('solve', { session: stems }), null);
    const question = { treatment: undisturbed!.solution.treatment, part: 'bass' } as const;
    const atRest = await loop.ask('match', question);
    loop.answered.length = 0;

    const asked: Promise<unknown>[] = [];
    loop.onProgress = () => {
      loop.onProgress = () => undefined;
      asked.push(loop.ask('match', question), loop.ask('loudness', { reference: shortDemoFiles[1]!.name }));
    };
    const solved = await loop.ask('solve', { session });
    assert.deepEqual(loop.answered, ['match', 'loudness', 'solve']);
    assert.deepEqual(await asked[0], atRest);
    assert.deepEqual(soundOf(solved!), soundOf(undisturbed!));
  } finally {
    loop.close();
  }
});
