import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { BuiltPage, type Sheet } from './built-page.js';
import { heardPeak, listenToPage } from './heard-sound.js';
import { faultyFiles } from './song-files.js';
import { until } from './until.js';

/* Loaded once, the page stands alone: the server is gone, the whole job goes on, and it opens again. Nothing moves where motion is not wanted. */

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser({ reducedMotion: 'reduce' }, listenToPage);
  // all of the page is kept, and this tab is answered from there
  await until(sheet.page, 'the page is kept', () =>
    sheet.page.evaluate(() => navigator.serviceWorker.controller !== null),
  );
  await built.unplug();
});
after(() => built.close());

test('without a server: a song is opened, measured and heard, solved and printed', async () => {
  await sheet.openMeasured(faultyFiles());
  // in a loop, it goes on however long this takes
  await sheet.page.keyboard.press('l');
  await sheet.button('Play').click();
  await until(sheet.page, 'the song is heard', async () => (await heardPeak(sheet.page)) > 0);
  await sheet.button('Pause').click();
  await sheet.button('See the findings').click();
  await sheet.treat(/wide/);
  await sheet.solve();
  await sheet.print();
});

test('motion is reduced: nothing on the sheet moves by itself', async () => {
  const moving = await sheet.page.evaluate(() =>
    [...document.querySelectorAll('*')]
      .filter((element) => {
        const { transitionDuration, animationName } = getComputedStyle(element);
        return animationName !== 'none' || transitionDuration.split(', ').some((length) => parseFloat(length) > 0);
      })
      .map(({ outerHTML }) => outerHTML.slice(0, 100)),
  );
  assert.deepEqual(moving, []);
});

test('without a server: the page opens again, and the song’s decisions stand', async () => {
  await sheet.page.reload();
  await sheet.openMeasured(faultyFiles());
  await sheet.button('See the findings').click();
  await sheet.page
    .getByText(/^treated/)
    .first()
    .waitFor();
});

test('nothing was asked of another host, nothing broke the policy', () => {
  assert.deepEqual([sheet.askedOfOthers, sheet.violations], [[], []]);
});
