import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { BuiltPage, type Sheet } from './built-page.js';
import { heardPeak, listenToPage, waysOut } from './heard-sound.js';
import { faultyFiles } from './song-files.js';
import { until } from './until.js';

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

test('no sound is opened before play is pressed', async () => {
  assert.equal(await waysOut(sheet.page), 0);
});

test('play: the song is heard, never louder than the safe start once the monitor has risen, and its place moves', async () => {
  await sheet.button('Play').click();
  let highest = 0;
  // the monitor rises for 2 s
  await until(sheet.page, 'three seconds are played', async () => {
    highest = Math.max(highest, await heardPeak(sheet.page));
    return seconds(await place()) >= 3;
  });
  assert.ok(highest > 0.01 && highest <= SAFE_START, `peak ${highest}`);
  assert.equal(await waysOut(sheet.page), 1);
});

test('S swaps source and treated while it sounds', async () => {
  const source = sheet.page.getByRole('radio', { name: 'Source' });
  assert.equal(await source.isChecked(), false);
  await sheet.page.keyboard.press('s');
  await until(sheet.page, 'source is heard', () => source.isChecked());
  assert.ok((await heardPeak(sheet.page)) > 0);
});

test('space rests it: silence, and the place stands', async () => {
  await sheet.page.keyboard.press('Space');
  await until(sheet.page, 'it is silent', async () => (await heardPeak(sheet.page)) === 0);
  const rested = await place();
  assert.equal(await place(), rested);
  await sheet.button('Play').waitFor();
  assert.deepEqual(sheet.errors, []);
});
