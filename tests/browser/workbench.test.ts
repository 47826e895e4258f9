import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { BuiltPage, type Sheet } from './built-page.js';
import { typeInto } from './form-blanks.js';
import { heardPeak, listenToPage } from './heard-sound.js';
import { until } from './until.js';

/* The whole job as a new user does it on the demo song: open, find, treat by wish, compare, print, prove. */

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser({}, listenToPage);
});
after(() => built.close());

test('open the demo in one click: stems with their roles, then the findings', async () => {
  const { page } = sheet;
  await sheet.button('Open the demo song').click();
  await sheet.button('See the findings').waitFor();
  await sheet.drawn();
  assert.equal(await page.locator('.stems-table tbody tr').count(), 7);
  assert.equal(await page.getByLabel('Role of 04 Bass DI.wav').inputValue(), 'bass');
  assert.equal(await page.getByLabel('Role of 01 Kick In.wav').inputValue(), 'kick');
  await sheet.button('See the findings').click();
  await page.getByText('Leave it when').first().waitFor();
  await sheet.drawn();
  assert.ok((await sheet.findings.count()) >= 3);
});

test('treat one, take it back by name, treat everything', async () => {
  const { page } = sheet;
  await sheet.mending.getByRole('button', { name: 'Treat' }).click();
  await page.getByRole('button', { name: /^Undo: treat / }).click();
  await page.getByRole('button', { name: 'Undo', exact: true, disabled: true }).waitFor();
  await page.getByRole('button', { name: /^Redo: treat / }).waitFor();
  await sheet.button('Treat everything found').click();
});

test('treat by wish: what is wanted is typed, solved, and reached', async () => {
  const { page } = sheet;
  await sheet.tab('Path').click();
  await page.locator('.strands [data-key="bass.centre"]').click();
  await typeInto(page.locator('.wish-sentence').getByRole('slider'), '0.5 dB');
  await sheet.solve();
  const reached = page.locator('.open-stage .account div').filter({ hasText: /^Reached/ });
  assert.ok(parseFloat((await reached.innerText()).replace('\u2212', '-').replace(/^\D*?(?=-?\d)/, '')) <= 0.5);
});

test('compare: source and treated on one key, matched, while it sounds', async () => {
  const { page } = sheet;
  // in a loop, it goes on however long this takes
  await page.keyboard.press('l');
  await sheet.button('Play').click();
  await until(page, 'the song is heard', async () => (await heardPeak(page)) > 0);
  await page
    .locator('.listen-bar')
    .getByText(/level-matched by [+\u2212]?\d/)
    .waitFor();
  const source = page.getByRole('radio', { name: 'Source' });
  for (const heard of [true, false]) {
    await page.keyboard.press('s');
    await until(page, 'the key swaps', async () => (await source.isChecked()) === heard);
  }
  await page.keyboard.press('Space');
  await sheet.button('Play').waitFor();
});

test('print, and the proof stands, measured from the files', async () => {
  const { page } = sheet;
  await sheet.print();
  await page.getByText('Printed as v1').waitFor();
  const proof = page.locator('.proof-screen');
  for (const measure of ['clearance', 'centre', 'evenness', 'headroom']) {
    await proof.getByText(new RegExp(measure, 'i')).first().waitFor();
  }
  const download = page.waitForEvent('download');
  await sheet.button('Save all prints as one zip').click();
  assert.match((await download).suggestedFilename(), /v1\.zip$/);
});

test('what was decided stands again after the page was left', async () => {
  const { page } = sheet;
  await page.waitForFunction(() => !document.querySelector('.title-block')?.textContent?.includes('not yet'));
  await page.reload();
  await page.locator('.recent').getByRole('button', { name: 'Open' }).click();
  await sheet.button('See the findings').click();
  await page
    .getByText(/^treated/)
    .first()
    .waitFor();
});

test('nothing broke the policy, nothing was asked of another host, no error was thrown', () => {
  assert.deepEqual([sheet.violations, sheet.askedOfOthers, sheet.errors], [[], [], []]);
});
