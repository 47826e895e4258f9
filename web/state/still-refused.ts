import type { SongSource, Trouble } from '../../protocol/job-messages.js';

/** What is said where a folder was asked for again and is still refused. */
export function stillRefused(source: SongSource): Trouble {
  return {
    subject: source.kind === 'demo' ? 'The demo song' : source.name,
    reason: 'The folder may not be read, or is gone.',
    remedy: 'Allow it when the browser asks, or choose the folder again. What you did is safe in this browser.',
  };
}
