import type { JobTasks } from '../../protocol/job-messages.js';
import { WorkerClient, type Work } from './worker-client.js';

/** Asks the thread that measures, solves and prints. */
export function jobClient(onWork: (work: Work) => void): WorkerClient<JobTasks> {
  return new WorkerClient<JobTasks>({
    start: () => new Worker(new URL('../../worker/job-worker.ts', import.meta.url), { type: 'module' }),
    lost: {
      subject: 'The measuring thread',
      reason: 'It ended by itself; the song may be too large for this browser.',
      remedy: 'What you decided is safe. Close other tabs and open the song again.',
    },
    onWork,
  });
}
