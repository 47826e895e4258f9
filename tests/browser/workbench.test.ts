import assert from 'node:assert/strict';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { openBrowser } from './find-browser.js';

/* The whole job as a new user does it, on the built page under its own content security policy. */

const dist = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const { serveSite } = (await import(pathToFileURL(join(dist, '..', 'scripts', 'site-server.mjs')).href)) as {
  serveSite(folder: string): Promise<{ readonly address: string; close(): Promise<void> }>;
};

let browser: Browser;
let page: Page;
let site: Awaited<ReturnType<typeof serveSite>>;
const asked: string[] = [];
const violations: string[] = [];
const errors: string[] = [];

const LONG = { timeout: 240_000 };

before(async () => {
  site = await serveSite(join(dist, 'site'));
  browser = await openBrowser();
  page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  page.on('request', (request) => asked.push(request.url()));
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(message.text());
  });
  await page.exposeFunction('keelsonViolation', (what: string) => violations.push(what));
  await page.addInitScript(() => {
    addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) => {
      void (window as unknown as { keelsonViolation(what: string): void }).keelsonViolation(
        `${violatedDirective} ${blockedURI}`,
      );
    });
  });
  await page.goto(site.address);
});
after(async () => {
  await browser.close();
  await site.close();
});

function button(name: string) {
  return page.getByRole('button', { name, exact: true });
}

test('open the demo in one click: stems with their roles, then the findings', async () => {
  await button('Open the demo song').click();
  await button('See the findings').waitFor(LONG);
  assert.equal(await page.locator('.stems-table tbody tr').count(), 7);
  assert.equal(await page.getByLabel('Role of 04 Bass DI.wav').inputValue(), 'bass');
  assert.equal(await page.getByLabel('Role of 01 Kick In.wav').inputValue(), 'kick');
  await button('See the findings').click();
  assert.ok((await page.locator('.findings-list ol > li').count()) >= 3);
  await page.getByText('Leave it when').first().waitFor();
});

test('treat one, take it back by name, treat everything', async () => {
  await page.locator('.findings-mending').getByRole('button', { name: 'Treat' }).click();
  const undo = page.getByRole('button', { name: /^Undo: treat / });
  await undo.click();
  assert.equal(await page.getByRole('button', { name: /^Undo/ }).isDisabled(), true);
  await page.getByRole('button', { name: /^Redo: treat / }).waitFor();
  await button('Treat everything found').click();
});

test('solve, print, and the proof stands, measured from the files', async () => {
  await button('Solve').click();
  await page.locator('.decision-bar').getByRole('button', { name: 'Print', disabled: false }).click(LONG);
  await page.getByText('Printed as v1').waitFor(LONG);
  const proof = page.locator('.proof-screen');
  await proof.waitFor();
  for (const measure of ['clearance', 'centre', 'evenness', 'headroom']) {
    await proof.getByText(new RegExp(measure, 'i')).first().waitFor();
  }
  const download = page.waitForEvent('download');
  await button('Save all prints as one zip').click();
  assert.match((await download).suggestedFilename(), /v1\.zip$/);
});

test('what was decided stands again after the page was left', async () => {
  await page.waitForFunction(() => !document.querySelector('.title-block')?.textContent?.includes('not yet'));
  await page.reload();
  await page.locator('.recent').getByRole('button', { name: 'Open' }).click();
  await button('See the findings').waitFor(LONG);
  await button('See the findings').click();
  await page
    .getByText(/^treated/)
    .first()
    .waitFor();
});

test('nothing broke the policy, nothing was asked of another host, no error was thrown', () => {
  assert.deepEqual(violations, []);
  assert.deepEqual(
    asked.filter((url) => !url.startsWith(site.address) && !url.startsWith('blob:')),
    [],
  );
  assert.deepEqual(errors, []);
});
