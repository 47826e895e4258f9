import assert from 'node:assert/strict';
import type { Page } from 'playwright-core';

const LOOKS = 4800;
const BETWEEN_LOOKS_ms = 50;

/** Looks again and again until it is so; what never comes to be fails, so that no test waits without end. */
export async function until(page: Page, what: string, isSo: () => Promise<boolean>): Promise<void> {
  for (let look = 0; look < LOOKS; look++) {
    if (await isSo()) return;
    await page.waitForTimeout(BETWEEN_LOOKS_ms);
  }
  assert.fail(`never: ${what}`);
}
