import type { Page } from 'playwright-core';
import type { JobTask } from '../../protocol/job-messages.js';

/** Lets nothing of this kind reach the worker any more: the page stands as it does while that is under way. */
export async function holdWork(page: Page, task: JobTask): Promise<void> {
  await page.evaluate((held) => {
    const post = Worker.prototype.postMessage as (this: Worker, ...words: unknown[]) => void;
    const unlessHeld = function (this: Worker, ...words: unknown[]): void {
      if ((words[0] as { readonly task?: string }).task !== held) post.apply(this, words);
    };
    Object.assign(Worker.prototype, { postMessage: unlessHeld });
  }, task);
}
