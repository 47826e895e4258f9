import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { BuiltPage, type Sheet } from './built-page.js';
import { heardPeak, listenToPage, sounded_s, takeSound, waysOut } from './heard-sound.js';
import { faultyFiles, faultySong } from './song-files.js';
import { until } from './until.js';

/*
 * The page sounds: nothing before a gesture, softly at first, the song once it plays, silence once it rests. It plays in a loop,
 * so that it goes on however long a busy machine takes to look.
 */

let built: BuiltPage;
let sheet: Sheet;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser({}, listenToPage);
  await sheet.openMeasured(faultyFiles());
  await sheet.button('See the findings').click();
});
after(() => built.close());

/** Highest sample of the song as its stems sum, and what is left of it at the safe start. */
const songPeak = peakOf(faultySong());
const SAFE_START = 10 ** (-20 / 20);
/** Longer than what the ear holds. */
const PAST_THE_EAR_s = 0.75;

const place = () => sheet.page.locator('.listen-dim').first().innerText();

/** `1:02.5` in seconds. */
function seconds(text: string): number {
  const [, minutes, rest] = /(\d+):(\d+(?:\.\d+)?)/.exec(text) ?? assert.fail(`no place in the song: ${text}`);
  return 60 * Number(minutes) + Number(rest);
}

function peakOf({ sound: { kick, bass, rest } }: ReturnType<typeof faultySong>): number {
  const sides = (['left', 'right'] as const).map((side) =>
    Float64Array.from(kick![side]).reduce(
      (peak, x, n) => Math.max(peak, Math.abs(x + bass![side][n]! + rest![side][n]!)),
      0,
    ),
  );
  return Math.max(...sides);
}

/** Until so much more has gone out. */
async function sounds(more_s: number): Promise<void> {
  const from_s = await sounded_s(sheet.page);
  await until(sheet.page, `${more_s} s of sound`, async () => (await sounded_s(sheet.page)) >= from_s + more_s);
}

test('no sound is opened before play is pressed', async () => {
  assert.equal(await waysOut(sheet.page), 0);
});

test('a stretch drawn on the strip before anything sounds is looped, and still nothing is opened', async () => {
  const { page } = sheet;
  await sheet.drawn();
  const strip = (await page.locator('.strip-body').boundingBox()) ?? assert.fail('no strip');
  const at = (share: number) => [strip.x + share * strip.width, strip.y + strip.height / 2] as const;
  await page.keyboard.down('Shift');
  await page.mouse.move(...at(0.4));
  await page.mouse.down();
  await page.mouse.move(...at(0.6));
  await page.mouse.move(...at(0.9));
  await page.mouse.up();
  await page.keyboard.up('Shift');
  await page
    .locator('.listen-wide')
    .filter({ hasText: /^Loop(?!.*off)/ })
    .waitFor();
  assert.equal(await waysOut(page), 0);
});

test('play: from the loop on, never louder than the safe start once the monitor has risen, and the place moves', async () => {
  await sheet.button('Play').click();
  await until(sheet.page, 'the song is under way', async () => seconds(await place()) > 0);
  const first = await place();
  assert.ok(seconds(first) > 3 && seconds(first) < 8, `begins at ${first}, not in the loop`);
  await until(sheet.page, 'its place moves', async () => (await place()) !== first);
  const most = songPeak * SAFE_START;
  let highest = 0;
  // the monitor rises for 2 s, the loop is under 5 s long
  await until(sheet.page, 'the loop is heard at its level', async () => {
    highest = Math.max(highest, await heardPeak(sheet.page));
    return highest > 0.8 * most && (await sounded_s(sheet.page)) >= 8;
  });
  assert.ok(highest <= most, `peak ${highest}, expected at most ${most}`);
  assert.ok(seconds(await place()) > 3, 'it stays in the loop');
  assert.equal(await waysOut(sheet.page), 1);
});

test('S swaps source and treated while it sounds', async () => {
  const source = sheet.page.getByRole('radio', { name: 'Source' });
  assert.equal(await source.isChecked(), false);
  await sheet.page.keyboard.press('s');
  await until(sheet.page, 'source is heard', () => source.isChecked());
  await sounds(PAST_THE_EAR_s);
  await until(sheet.page, 'it sounds on', async () => (await heardPeak(sheet.page)) > 0);
});

test('space rests it: silence, and the place stands', async () => {
  await sheet.page.keyboard.press('Space');
  await sheet.button('Play').waitFor();
  await until(sheet.page, 'it is silent', async () => (await heardPeak(sheet.page)) === 0);
  await sounds(PAST_THE_EAR_s);
  const rested = await place();
  await sounds(PAST_THE_EAR_s);
  assert.equal(await place(), rested);
  assert.equal(await heardPeak(sheet.page), 0);
  assert.deepEqual(sheet.errors, []);
});

for (const how of ['suspend', 'close'] as const) {
  const lost = how === 'close';
  test(`the sound is taken away ${lost ? 'for good' : 'for a while'}: it rests, is said, and goes on there with the safe start`, async () => {
    const { page } = sheet;
    await sheet.button('Play').click();
    await until(page, 'it sounds', async () => (await heardPeak(page)) > 0);
    // louder than the safe start allows
    for (let step = 0; step < 5; step++) await page.keyboard.press('.');
    await page.locator('.listen-bar').getByText(/−15/).waitFor();
    await takeSound(page, how);
    await sheet.button('Play').waitFor();
    await page
      .locator('.listen-open [role=status]')
      .filter({ hasText: lost ? /was lost at/ : /took the sound away at/ })
      .waitFor();
    const rested = seconds(await place());
    assert.ok(rested > 3);
    await sheet.button('Play').click();
    await sheet.button('Pause').waitFor();
    await page.locator('.listen-bar').getByText(/−20/).waitFor();
    await until(page, 'it goes on', async () => seconds(await place()) > 0 && seconds(await place()) !== rested);
    assert.ok(seconds(await place()) > 3, 'it stays in the loop');
    assert.equal(await page.locator('.listen-open [role=status]').count(), 0);
    assert.equal(await waysOut(page), lost ? 2 : 1);
    await sheet.button('Pause').click();
    await until(page, 'it is silent', async () => (await heardPeak(page)) === 0);
    assert.deepEqual(sheet.errors, []);
  });
}
