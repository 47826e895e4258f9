import type { SoundTasks } from '../../protocol/sound-request.js';
import { WorkerClient } from './worker-client.js';

/** Asks the thread that hands frames of the song to whoever plays them. */
export function soundClient(): WorkerClient<SoundTasks> {
  return new WorkerClient<SoundTasks>({
    start: () => new Worker(new URL('../../worker/sound-worker.ts', import.meta.url), { type: 'module' }),
    lost: {
      subject: 'The thread that plays',
      reason: 'It ended by itself.',
      remedy: 'What you decided is safe. Open the song again to hear it.',
    },
  });
}
