import type { Locator } from 'playwright-core';
import { drawn } from './drawn.js';
import { until } from './until.js';

/**
 * Types a value into a blank as the keyboard does: Enter opens it, the old text is chosen, Enter takes the new one over. The
 * blank has the focus again a frame later: what comes next waits for it, or would lose it to the blank.
 */
export async function typeInto(blank: Locator, text: string): Promise<void> {
  const page = blank.page();
  await blank.waitFor();
  await drawn(page);
  await blank.press('Enter');
  const input = page.locator('.blank-input');
  await input.fill(text);
  await input.press('Enter');
  await input.waitFor({ state: 'detached' });
  await drawn(page);
  await until(page, 'the blank has the focus again', () =>
    blank.evaluate((element) => element === document.activeElement),
  );
}
