import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { assertAccessible } from './accessible.js';
import { BuiltPage, type Sheet } from './built-page.js';
import { holdWork } from './held-work.js';
import { assertOneSheet } from './paper-pages.js';
import { assertPictures, differenceOf, greyPicture, isAlike } from './picture.js';
import { assertReachable } from './reachable.js';
import { faultyFiles, otherFaultyFiles } from './song-files.js';

/*
 * Every sheet in every state: no rule of axe broken (WCAG 2.2 AA) on light and dark paper, no control out of reach in a small
 * window, nothing that scrolls sideways. The states follow each other as a user comes to them.
 */

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser();
});
after(() => built.close());

/** One state of the page, and how it is come to from the state before; a stable one is compared with its picture. */
function state(name: string, reach: () => Promise<unknown>, picture?: string): void {
  test(name, async () => {
    await reach();
    await sheet.drawn();
    await assertAccessible(sheet.page, name);
    await assertReachable(sheet.page, name);
  });
  if (picture !== undefined) test(`${name}: as in its pictures`, () => assertPictures(sheet.page, picture));
}

const openFrame = (key: string) => sheet.page.locator(`.strands [data-key="${key}"]`).click();

state('no song yet', () => sheet.button('Choose files').waitFor(), 'empty');

state('the sheet of keys', () => sheet.button('Keys').click());

state('a key is being changed', () =>
  sheet.page
    .locator('.raised')
    .getByRole('button', { name: /swap source and treated/ })
    .click(),
);

state('what is no song is refused', async () => {
  await sheet.page.keyboard.press('Escape');
  await sheet.page.locator('.raised').getByRole('button', { name: 'Close', exact: true }).click();
  await sheet.chooseFiles({ 'Kick.wav': new TextEncoder().encode('a shopping list\n') });
  await sheet.page.locator('.trouble').waitFor();
});

state('a song is being measured', async () => {
  await sheet.button('Open another song').click();
  await holdWork(sheet.page, 'inspect');
  await sheet.chooseFiles(otherFaultyFiles());
  await sheet.page.locator('.stems-table').waitFor();
});

test('the other faults, as figures and as tables', async () => {
  await sheet.page.reload();
  await sheet.openMeasured(otherFaultyFiles());
  await sheet.button('See the findings').click();
  await everyEvidence();
});

state('stems with their roles', async () => {
  await sheet.page.reload();
  await sheet.openMeasured(faultyFiles());
});

state('findings, the first with its evidence', () => sheet.button('See the findings').click(), 'findings');

test('a layout that is off by half a line would not be as in its picture', async () => {
  const { page } = sheet;
  const before = await greyPicture(page);
  await page.evaluate(() => document.body.style.setProperty('padding-top', '6px'));
  const off = differenceOf(before, await greyPicture(page));
  assert.ok(!isAlike(off), JSON.stringify(off));
  await page.evaluate(() => document.body.style.removeProperty('padding-top'));
  assert.ok(isAlike(differenceOf(before, await greyPicture(page))));
});

test('every finding’s evidence, as a figure and as a table', everyEvidence);

state('a finding is being left, with a reason', () =>
  sheet.mending.getByRole('button', { name: /^Leave, with a reason/ }).click(),
);

state('a finding is left, another treated', async () => {
  await sheet.page.getByLabel('Reason for leaving it').fill('the player means it');
  await sheet.button('Leave it').click();
  await sheet.treat(/wide/, /ahead|behind/, /covers/);
});

state('path before solving, a stage open', async () => {
  await sheet.tab('Path').click();
  await openFrame('bass.centre');
});

state('a value that cannot be read', async () => {
  const blank = sheet.page.locator('.settings').getByRole('slider', { name: 'corner', exact: true });
  await blank.press('Enter');
  await sheet.page.locator('.blank-input').fill('a bit lower');
  await sheet.page.locator('.blank-input').press('Enter');
  await sheet.page.locator('.typed-problem').waitFor();
});

state('proof before a print', async () => {
  await sheet.page.locator('.blank-input').press('Escape');
  await sheet.tab('Proof').click();
});

state(
  'the path, solved, with what each step buys',
  async () => {
    await sheet.solve();
    await sheet.tab('Path').click();
    await openFrame('bass.make-room');
  },
  'path',
);

state('the listening sheet', () => sheet.button('Listening').click());

const blind = () => sheet.page.getByRole('region', { name: 'Blind compare' });

state('a blind compare under way', async () => {
  await sheet.button('Play').click();
  await blind().getByRole('button', { name: 'Begin' }).click();
});

state('what a blind compare gave', async () => {
  const trial = blind().getByText(/^Trial \d+ of \d+/);
  const agreed = Number(/of (\d+)/.exec(await trial.innerText())?.[1]);
  assert.ok(agreed >= 8, `${agreed} trials are agreed`);
  for (let n = 1; n <= agreed; n++) {
    await trial.filter({ hasText: `Trial ${n} of ${agreed}` }).waitFor();
    await blind()
      .getByRole('button', { name: /^X is A/ })
      .click();
  }
  await blind().locator('.listen-result').waitFor();
});

state('what to print, and how', async () => {
  await blind()
    .getByRole('button', { name: /^Close/ })
    .click();
  await sheet.button('Close listening').click();
  await sheet.bar.getByRole('button', { name: 'Print', disabled: false }).click();
  await sheet.page.locator('.print-sheet').waitFor();
});

state(
  'the proof of a print',
  async () => {
    await sheet.page.locator('.print-sheet').getByRole('button', { name: 'Print' }).click();
    await sheet.page.locator('.proof-screen').waitFor();
  },
  'proof',
);

state('versions: one is named and compared with the print', async () => {
  await sheet.button(/^Versions:/).click();
  await sheet.page.locator('.name-version input').fill('room for the kick');
  await sheet.button('Keep it').click();
});

state('the client report', async () => {
  await sheet.page.locator('.raised').getByRole('button', { name: 'Close', exact: true }).click();
  await sheet.button(/^Client report/).click();
});

test('the client report is one page of A4', () => assertOneSheet(sheet.page, '.a4'));

state('the recall sheet', async () => {
  await sheet.button('Back to the proof').click();
  await sheet.button(/^Recall/).click();
});

test('the recall sheet is one page of A4', () => assertOneSheet(sheet.page, '.a4'));

state('a song is being solved', async () => {
  await sheet.button('Back to the proof').click();
  await holdWork(sheet.page, 'solve');
  await sheet.tab('Findings').click();
  await sheet.treat(/neighbours/);
  await sheet.bar.getByRole('button', { name: 'Solve' }).click();
  await sheet.tab('Path').click();
});

test('none of all this threw an error or broke the policy', () => {
  assert.deepEqual([sheet.errors, sheet.violations], [[], []]);
});

/** Every kind of evidence among the findings, once. */
async function everyEvidence(): Promise<void> {
  const asTable = sheet.button(/^As a table/);
  await sheet.findings.first().waitFor();
  await sheet.drawn();
  const seen = new Set<string>();
  for (const finding of await sheet.findings.all()) {
    await sheet.chooseItem(finding);
    const figures = (await sheet.page.locator('.findings-evidence h3').allInnerTexts()).join(', ');
    if (seen.has(figures)) continue;
    seen.add(figures);
    const name = (await finding.innerText()).replace(/\s+/g, ' ');
    await assertAccessible(sheet.page, name);
    await assertReachable(sheet.page, name);
    await asTable.click();
    await sheet.page.locator('.findings-evidence table').first().waitFor();
    await assertAccessible(sheet.page, `${name}, as a table`);
    await asTable.click();
    await sheet.page.locator('.findings-evidence table').first().waitFor({ state: 'detached' });
  }
  assert.ok(seen.size >= 4, `${seen.size} kinds of evidence`);
}
