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

const place = () => sheet.page.locator('.listen-dim').innerText();

async function until(met: () => Promise<boolean>): Promise<void> {
  while (!(await met())) await sheet.page.waitForTimeout(20);
}

test('no sound is opened before play is pressed', async () => {
  assert.equal(await waysOut(sheet.page), 0);
});

test('play: the song is heard, no louder than the safe start, and its place moves', async () => {
  const still = await place();
  await sheet.button('Play').click();
  await until(async () => {
    const peak = await heardPeak(sheet.page);
    assert.ok(peak <= SAFE_START, `peak ${peak}`);
    return peak > 0.001;
  });
  await until(async () => (await place()) !== still);
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
