import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { BuiltPage, type Sheet } from './built-page.js';
import { heardPeak, listenToPage, waysOut } from './heard-sound.js';
import { faultyFiles } from './song-files.js';

/* The page sounds: nothing before a gesture, softly at first, the song once it plays, silence once it rests. */

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser({}, listenToPage);
  await sheet.openMeasured(faultyFiles());
  await sheet.button('See the findings').click();
});
after(() => built.close());

/** The song's own peak is under full scale, so at the safe start nothing goes out above it. */
const SAFE_START = 10 ** (-20 / 20);

const place = () => sheet.page.locator('.listen-dim').first().innerText();

/** `1:02.5` in seconds. */
function seconds(text: string): number {
  const [, minutes, rest] = /(\d+):(\d+(?:\.\d+)?)/.exec(text) ?? assert.fail(`no place in the song: ${text}`);
  return 60 * Number(minutes) + Number(rest);
}

async function until(met: () => Promise<boolean>): Promise<void> {
  while (!(await met())) await sheet.page.waitForTimeout(20);
}

test('no sound is opened before play is pressed', async () => {
  assert.equal(await waysOut(sheet.page), 0);
});

test('play: the song is heard, never louder than the safe start once the monitor has risen, and its place moves', async () => {
  await sheet.button('Play').click();
  let highest = 0;
  // the monitor rises for 2 s
  while (seconds(await place()) < 3) {
    highest = Math.max(highest, await heardPeak(sheet.page));
    await sheet.page.waitForTimeout(100);
  }
  assert.ok(highest > 0.01 && highest <= SAFE_START, `peak ${highest}`);
  assert.equal(await waysOut(sheet.page), 1);
});

test('S swaps source and treated while it sounds', async () => {
  const source = sheet.page.getByRole('radio', { name: 'Source' });
  assert.equal(await source.isChecked(), false);
  await sheet.page.keyboard.press('s');
  await until(() => source.isChecked());
  assert.ok((await heardPeak(sheet.page)) > 0);
});

test('space rests it: silence, and the place stands', async () => {
  await sheet.page.keyboard.press('Space');
  await until(async () => (await heardPeak(sheet.page)) === 0);
  const rested = await place();
  assert.equal(await place(), rested);
  await sheet.button('Play').waitFor();
  assert.deepEqual(sheet.errors, []);
});
