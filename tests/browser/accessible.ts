import assert from 'node:assert/strict';
import axe from 'axe-core';
import type { Page } from 'playwright-core';
import { drawn } from './drawn.js';

/** WCAG 2.2 to level AA. */
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

type AxeWindow = typeof globalThis & { readonly axe?: typeof axe };

/** Every rule of axe over the whole page as it stands now, on light and on dark paper. */
export async function assertAccessible(page: Page, state: string): Promise<void> {
  const standing = await page.evaluate(() => document.documentElement.dataset['paper'] ?? 'light');
  for (const paper of ['light', 'dark']) {
    await page.evaluate((next) => (document.documentElement.dataset['paper'] = next), paper);
    await drawn(page);
    assert.deepEqual(await violationsOf(page), [], `${state}, ${paper}`);
  }
  await page.evaluate((before) => (document.documentElement.dataset['paper'] = before), standing);
}

async function violationsOf(page: Page): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(axe.source);
  return page.evaluate(async (tags) => {
    const { violations } = await (globalThis as AxeWindow).axe!.run(document, {
      runOnly: { type: 'tag', values: tags },
      resultTypes: ['violations'],
    });
    return violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id} at ${target.join(' ')}: ${failureSummary ?? ''}`),
    );
  }, TAGS);
}
