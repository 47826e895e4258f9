import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { BuiltPage, playwrightFiles, type Sheet } from './built-page.js';
import { onceRound, tabTo } from './by-keyboard.js';
import { keptSession } from './kept-session.js';
import { faultyFiles } from './song-files.js';
import { until } from './until.js';

/*
 * From the empty sheet to the proof without a pointer. At every stop on the way the focus is marked and in sight (WCAG 2.2, 2.4.7
 * and 2.4.11), and on every sheet Tab comes round: nothing catches the keyboard (2.1.2).
 */

const SONG = 'Lamp Room';

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser({ viewport: { width: 1280, height: 720 } });
});
after(() => built.close());

const press = async (...keys: readonly string[]): Promise<void> => {
  for (const key of keys) await sheet.page.keyboard.press(key);
};

/** The sheet is drawn a moment after the key, and some of it takes the focus a frame later: what comes next waits for it. */
async function pressAt(name: RegExp): Promise<void> {
  await tabTo(sheet.page, name);
  await press('Enter');
  await sheet.drawn();
}

function focusedIs(attribute: 'aria-selected' | 'aria-pressed'): Promise<void> {
  return until(sheet.page, `what has focus is ${attribute}`, () =>
    sheet.page.evaluate((name) => document.activeElement?.getAttribute(name) === 'true', attribute),
  );
}

async function turnTo(tab: string): Promise<void> {
  await tabTo(sheet.page, /^tab /);
  for (let n = 0; n < 4; n++) {
    await focusedIs('aria-selected');
    if ((await sheet.tab(tab).getAttribute('aria-selected')) === 'true') return;
    await press('ArrowRight');
  }
  assert.fail(`arrows do not come to the sheet ${tab}`);
}

/** Along the strands by arrows until a stage is open. */
async function openStage(key: string): Promise<void> {
  for (let n = 0; n < 40; n++) {
    await press('ArrowRight', 'Enter');
    await focusedIs('aria-pressed');
    if ((await sheet.page.evaluate(() => document.activeElement?.getAttribute('data-key'))) === key) return;
  }
  assert.fail(`arrows do not come to ${key}`);
}

/** Comes round on the sheet that is shown, and meets these on the way. */
async function meets(...names: readonly RegExp[]): Promise<void> {
  const stops = await onceRound(sheet.page);
  for (const name of names)
    assert.ok(
      stops.some((stop) => name.test(stop)),
      `${name} among ${stops.join(', ')}`,
    );
}

test('the empty sheet: files are chosen', async () => {
  await meets(/Choose a folder/, /Choose files/, /Open the demo song/, /Dark/);
  await tabTo(sheet.page, /Choose files/);
  const chooser = sheet.page.waitForEvent('filechooser');
  await press('Enter');
  await (await chooser).setFiles(playwrightFiles(faultyFiles()));
  await sheet.button('See the findings').waitFor();
  await sheet.drawn();
});

test('stems: roles are reached, and the findings', async () => {
  await meets(/Role of Lamp Room Kick In\.wav/, /See the findings/, /^tab Stems/);
  await pressAt(/See the findings/);
});

test('findings: one is chosen, seen as a table and treated; another left with a reason', async () => {
  await meets(/Finding 5/, /As a table/, /Treat$/, /Play/, /Listening/);
  await pressAt(/wide/);
  await pressAt(/As a table/);
  await sheet.page.locator('.evidence-table, .findings-evidence table').first().waitFor();
  await pressAt(/^button Treat$/);
  await pressAt(/neighbours/);
  await pressAt(/Leave, with a reason/);
  await sheet.page.keyboard.type('the player means it');
  await press('Enter');
  const { decisions } = await keptSession(sheet.page, SONG, (session) => session.decisions.length === 2);
  assert.deepEqual(decisions, [
    { finding: 'wide-lows', action: 'treat', reason: '' },
    { finding: 'resonant-note', action: 'leave', reason: 'the player means it' },
  ]);
});

test('the path: a stage is opened with arrows, its wish typed and a setting stepped', async () => {
  await turnTo('Path');
  await meets(/align|centre/, /Solve/);
  await tabTo(sheet.page, /^button .*(align|clean|centre|make room)/);
  await openStage('bass.centre');
  await tabTo(sheet.page, /^slider fold-down loss|^slider .*at most/i);
  await press('Enter', 'Control+a');
  await sheet.page.keyboard.type('0.5 dB');
  await press('Enter');
  await sheet.drawn();
  await tabTo(sheet.page, /^slider corner/);
  await press('ArrowLeft');
  const { wishes, settings } = await keptSession(sheet.page, SONG, (session) => session.settings.length === 1);
  assert.deepEqual(wishes, [{ statistic: 'centre.foldDownLoss_dB', low: null, high: 0.5 }]);
  assert.equal(settings[0]!.address, 'bass.centre.corner_Hz');
});

test('solved, printed and proved', async () => {
  await tabTo(sheet.page, /^button Solve/);
  await press('Enter');
  await sheet.bar.getByRole('button', { name: 'Print', disabled: false }).waitFor();
  await sheet.drawn();
  await pressAt(/^button Print$/);
  await sheet.page.locator('.print-sheet').waitFor();
  await sheet.drawn();
  await pressAt(/^button Print$/);
  await sheet.page.locator('.proof-screen').waitFor();
  await sheet.drawn();
  await meets(/Client report/, /Recall/, /Save all prints as one zip/);
  const download = sheet.page.waitForEvent('download');
  await pressAt(/Save all prints as one zip/);
  assert.match((await download).suggestedFilename(), /v1\.zip$/);
  await pressAt(/Client report/);
  await pressAt(/Back to the proof/);
});

test('listening: the sheet is drawn up, a part soloed, and put down', async () => {
  await pressAt(/^button Listening/);
  await meets(/Everything|Solo/, /Monitor|monitor/);
  await tabTo(sheet.page, /Full range/);
  await press('ArrowRight');
  await sheet.page.locator('.listen-bar').getByText(/Phone/).waitFor();
  await pressAt(/Close listening/);
});

test('without a pointer nothing went wrong', () => {
  assert.deepEqual([sheet.errors, sheet.violations], [[], []]);
});
