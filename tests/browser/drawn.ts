import assert from 'node:assert/strict';
import type { Page } from 'playwright-core';

const MOST_FRAMES = 7200;

/**
 * The page draws its sheet a moment after what was done, and lays figures out a frame after that: once this is over, what is
 * read is what stands. Not for a page at work, which is drawn anew with everything that it tells.
 */
export async function drawn(page: Page): Promise<void> {
  const stands = await page.evaluate(async (most) => {
    const frame = (): Promise<unknown> => new Promise((done) => requestAnimationFrame(done));
    for (let n = 0; n < most; n++) {
      await frame();
      await frame();
      if (document.querySelector('[data-drawn="false"]') === null) return true;
    }
    return false;
  }, MOST_FRAMES);
  assert.ok(stands, 'the sheet is never drawn as it stands');
}
