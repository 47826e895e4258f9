import assert from 'node:assert/strict';
import { readFile } from 'node:fs/promises';
import { after, before, test } from 'node:test';
import type { Page } from 'playwright-core';
import { readSession } from '../../core/session/session-file.js';
import { everyFile, folderWith } from '../end-to-end/song-folder.js';
import { chosenFolder, textInFolder } from './browser-folder.js';
import { BuiltPage, type Sheet } from './built-page.js';
import { holdWork } from './held-work.js';
import { keptSession } from './kept-session.js';
import { dropOnSheet, withLeaveTakenBack } from './native-drop.js';
import { faultyFiles } from './song-files.js';
import { until } from './until.js';

/* What was decided outlives the page: left or killed at any moment, with the disk full, with the folder's leave taken back. */

const SONG = 'Lamp Room';
const files = faultyFiles();

let built: BuiltPage;

before(async () => {
  built = await BuiltPage.open();
});
after(() => built.close());

async function findingsOf(sheet: Sheet): Promise<void> {
  await sheet.openMeasured(files);
  await sheet.button('See the findings').click();
}

/** The sheet is drawn a little after the decision: waited for, never read at once. */
const standsTreated = (sheet: Sheet, finding: RegExp) =>
  sheet.findings
    .filter({ hasText: finding })
    .locator('.finding-standing')
    .first()
    .filter({ hasText: /treated/ })
    .waitFor();

const treats = (finding: string) => (session: { decisions: readonly { finding: string; action: string }[] }) =>
  session.decisions.some((decision) => decision.finding === finding && decision.action === 'treat');

test('reloaded while it measures: the sheet is empty again, and the song opens as before', async () => {
  const sheet = await built.newUser();
  await holdWork(sheet.page, 'inspect');
  await sheet.chooseFiles(files);
  await sheet.page.locator('.progress').waitFor();
  await sheet.page.reload();
  await findingsOf(sheet);
  assert.deepEqual(sheet.errors, []);
  await sheet.page.context().close();
});

test('the page killed right after a decision, then reloaded while it solves: what was decided stands', async () => {
  // a driven browser holds a service worker back whose process died with the page: without it here, as it keeps no session
  const sheet = await built.newUser({ serviceWorkers: 'block' });
  const { page } = sheet;
  await findingsOf(sheet);
  await sheet.treat(/wide/);
  await keptSession(page, SONG, treats('wide-lows'));
  await sheet.treatInPassing(/ahead|behind/);
  await page.goto('chrome://crash').catch(() => undefined);
  const next = await built.newTab(page.context());
  await page.close();
  await findingsOf(next);
  await standsTreated(next, /wide/);
  await holdWork(next.page, 'solve');
  await next.treat(/neighbours/);
  await keptSession(next.page, SONG, treats('resonant-note'));
  await next.bar.getByRole('button', { name: 'Solve' }).click();
  await next.page.locator('.progress').waitFor();
  await next.page.reload();
  await findingsOf(next);
  for (const finding of [/wide/, /neighbours/]) await standsTreated(next, finding);
  assert.deepEqual(next.errors, []);
  await next.page.context().close();
});

test('reloaded in the very moment of a decision: everything but that one stands', async () => {
  const sheet = await built.newUser();
  await findingsOf(sheet);
  await sheet.treat(/wide/);
  await keptSession(sheet.page, SONG, treats('wide-lows'));
  await sheet.treatInPassing(/ahead|behind/);
  await sheet.page.reload();
  const { decisions } = await keptSession(sheet.page, SONG);
  assert.ok(decisions.some(({ finding }) => finding === 'wide-lows'));
  assert.deepEqual(sheet.errors, []);
  await sheet.page.context().close();
});

test('a folder opened again from the list of songs: its session file holds every decision, the first one too', async () => {
  const sheet = await built.newUser();
  await chosenFolder(sheet.page, SONG, files);
  const inFile = async () => {
    const text = await textInFolder(sheet.page, SONG, 'keelson.json');
    return text === null ? [] : readSession(text).decisions;
  };
  await sheet.button('Choose a folder').click();
  await sheet.button('See the findings').click();
  for (const [opened, finding] of [/wide/, /neighbours/].entries()) {
    await sheet.treat(finding);
    await until(sheet.page, 'the decision is in the file', async () => (await inFile()).length === opened + 1);
    await sheet.page.reload();
    await sheet.page.locator('.recent').getByRole('button', { name: 'Open' }).click();
    await sheet.button('See the findings').click();
    await standsTreated(sheet, finding);
  }
  assert.deepEqual(sheet.errors, []);
  await sheet.page.context().close();
});

/** The browser's store refuses what is put into it, as it does where the disk is full, until there is room again. */
async function fillStorage(page: Page): Promise<() => Promise<void>> {
  await page.evaluate(() => {
    const put = IDBObjectStore.prototype.put;
    const refuse = (): never => {
      throw new DOMException('full', 'QuotaExceededError');
    };
    Object.assign(IDBObjectStore.prototype, { put: refuse });
    Object.assign(globalThis, { keelsonMakeRoom: () => Object.assign(IDBObjectStore.prototype, { put }) });
  });
  return () => page.evaluate(() => (globalThis as unknown as { keelsonMakeRoom(): void }).keelsonMakeRoom());
}

test('the browser’s storage is full: it is said, the work goes on, and is kept once there is room', async () => {
  const sheet = await built.newUser();
  const { page } = sheet;
  await findingsOf(sheet);
  await keptSession(page, SONG);
  const makeRoom = await fillStorage(page);
  await sheet.treat(/wide/);
  await page
    .locator('.keeping')
    .getByText(/not kept here: the browser’s storage is full/)
    .waitFor();
  const download = page.waitForEvent('download');
  await sheet.button('Save the session as a file').click();
  const saved = readSession(await readFile(await (await download).path(), 'utf8'));
  assert.ok(treats('wide-lows')(saved));
  await sheet.treat(/neighbours/);
  await standsTreated(sheet, /neighbours/);
  await makeRoom();
  await sheet.treat(/ahead|behind/);
  const { decisions } = await keptSession(page, SONG, treats('misaligned-mics'));
  assert.equal(decisions.length, 3);
  await page.locator('.keeping').waitFor({ state: 'detached' });
  assert.deepEqual(sheet.errors, []);
  await page.context().close();
});

test('leave to write was taken back: print and session are refused in words, nothing half is left, this browser keeps all', async () => {
  const sheet = await built.newUser();
  const folder = await folderWith(files, SONG);
  const before = await everyFile(folder);
  await withLeaveTakenBack(sheet.page);
  await dropOnSheet(sheet.page, { files: [folder] });
  await sheet.button('See the findings').click();
  await sheet.treat(/wide/);
  await keptSession(sheet.page, SONG, treats('wide-lows'));
  await sheet.page
    .locator('.keeping')
    .getByText(/may not be written: the session is kept in this browser only/)
    .waitFor();
  await sheet.solve();
  await sheet.bar.getByRole('button', { name: 'Print', disabled: false }).click();
  await sheet.page.locator('.print-sheet').getByRole('button', { name: 'Print' }).click();
  await sheet.page
    .locator('.trouble')
    .filter({ hasText: /may not be written[^]*No half file was left/ })
    .waitFor();
  assert.deepEqual(await everyFile(folder), before);
  assert.deepEqual(sheet.errors, []);
  await sheet.page.context().close();
});

test('two tabs on one song: the second says so, reads and follows, and goes on when the first is closed', async () => {
  const first = await built.newUser();
  await findingsOf(first);
  const second = await built.newTab(first.page.context());
  await findingsOf(second);
  await second.page
    .locator('.keeping')
    .getByText(/open in another tab/)
    .waitFor();
  await second.mending.getByText('Leave it when').waitFor();
  await second.drawn();
  assert.equal(await second.mending.getByRole('button', { name: /^Treat/ }).count(), 0);
  await first.treat(/wide/);
  await standsTreated(second, /wide/);
  await second.page.keyboard.press('t');
  await first.page.close();
  await second.page.locator('.keeping').waitFor({ state: 'detached' });
  await second.treat(/neighbours/);
  const { decisions } = await keptSession(second.page, SONG, treats('resonant-note'));
  assert.deepEqual(decisions.map(({ finding }) => finding).sort(), ['resonant-note', 'wide-lows']);
  assert.deepEqual([first.errors, second.errors], [[], []]);
  await second.page.context().close();
});

test('two tabs: the second takes over with all that was decided in the first, which then reads', async () => {
  const first = await built.newUser();
  await findingsOf(first);
  const second = await built.newTab(first.page.context());
  await findingsOf(second);
  await first.treatInPassing(/wide/);
  await second.button('Edit it here').click();
  await first.page
    .locator('.keeping')
    .getByText(/open in another tab/)
    .waitFor();
  await second.treat(/neighbours/);
  const { decisions } = await keptSession(second.page, SONG, treats('resonant-note'));
  assert.deepEqual(decisions.map(({ finding }) => finding).sort(), ['resonant-note', 'wide-lows']);
  assert.deepEqual([first.errors, second.errors], [[], []]);
  await second.page.context().close();
});
