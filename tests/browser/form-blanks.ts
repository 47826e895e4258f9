import type { Locator } from 'playwright-core';

/** Types a value into a blank as the keyboard does: Enter opens it, the old text is chosen, Enter takes the new one over. */
export async function typeInto(blank: Locator, text: string): Promise<void> {
  await blank.focus();
  await blank.press('Enter');
  const input = blank.page().locator('.blank-input');
  await input.fill(text);
  await input.press('Enter');
  await input.waitFor({ state: 'detached' });
}
