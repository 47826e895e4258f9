import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import type { Page } from 'playwright-core';
import { BuiltPage, type Sheet } from './built-page.js';
import { Fingers, middleOf, tooSmall, type Point } from './finger.js';
import { faultyFiles } from './song-files.js';
import { until } from './until.js';

/* The page in the hands of somebody without mouse and keys, and what it says and keeps where the sound is taken from it. */

let built: BuiltPage;
let sheet: Sheet;
let page: Page;
let fingers: Fingers;

before(async () => {
  built = await BuiltPage.open();
  sheet = await built.newUser({ hasTouch: true, viewport: { width: 820, height: 1000 } });
  ({ page } = sheet);
  fingers = await Fingers.of(page);
  await sheet.openMeasured(faultyFiles());
  assert.deepEqual(await tooSmall(page), []);
  await sheet.button('See the findings').tap();
  await page.locator('.strip-body').waitFor();
});
after(() => built.close());

const strip = async (across: number): Promise<Point> => {
  const [, y] = await middleOf(page.locator('.strip-body'));
  const { x, width } = (await page.locator('.strip-body').boundingBox())!;
  return [x + across * width, y];
};
const sight = async () => {
  const box = page.locator('.view-box');
  return box.evaluate(({ style }) => ({ from: parseFloat(style.left), length: parseFloat(style.width) }));
};
const scrolled = () => page.evaluate(() => scrollY);
/** A page that was thrown moves on for a while. */
async function pageRests(): Promise<void> {
  let before = NaN;
  await until(page, 'the page rests', async () => {
    const now = await scrolled();
    const rests = now === before;
    before = now;
    return rests;
  });
}
const loopWidth = async () => (await page.locator('.strip-loop').boundingBox())?.width ?? 0;
const undoSays = (words: RegExp) => page.locator('.decision-bar').getByRole('button', { name: words }).waitFor();

test('strip: two fingers draw in about their middle, one moves the paper, and up or down it moves the page', async () => {
  const [left, right] = [await strip(0.35), await strip(0.45)];
  await fingers.drag([
    [left, await strip(0.2)],
    [right, await strip(0.6)],
  ]);
  await until(page, 'the strip is drawn in', async () => (await sight()).length < 60);
  const before = await sight();
  // what lay between the fingers lies there still
  assert.ok(Math.abs(before.from + 0.4 * before.length - 40) < 2, JSON.stringify(before));
  await fingers.drag([[await strip(0.6), await strip(0.4)]]);
  await until(page, 'the paper is moved', async () => (await sight()).from > before.from + before.length * 0.15);
  const [x, y] = await strip(0.5);
  const from = await scrolled();
  await fingers.drag([
    [
      [x, y],
      [x, y - 120],
    ],
  ]);
  await until(page, 'the page is scrolled', async () => (await scrolled()) > from + 60);
});

test('strip: a finger that rests draws a loop, and its edge is dragged', async () => {
  await pageRests();
  const [[x, y], to] = [await strip(0.3), await strip(0.5)];
  const from = await scrolled();
  // not quite level: the page must stand still all the same
  await fingers.drag(
    [
      [
        [x, y],
        [to[0], y + 40],
      ],
    ],
    'held',
  );
  await page.locator('.strip-loop').waitFor();
  const { x: left, width: stripWidth } = (await page.locator('.strip-body').boundingBox())!;
  await until(page, 'the loop is drawn', async () => Math.abs((await loopWidth()) - 0.2 * stripWidth) < 4);
  assert.equal(await scrolled(), from);
  await fingers.drag([[[left + 0.5 * stripWidth, y], await strip(0.7)]]);
  await until(page, 'the loop is longer', async () => Math.abs((await loopWidth()) - 0.4 * stripWidth) < 4);
});

test('what was looped before the first sound is what sounds first', async () => {
  const place_s = async () => {
    const [, minutes, seconds] = /(\d+):(\d+\.\d)/.exec(await page.locator('.listen-dim').first().innerText())!;
    return 60 * Number(minutes) + Number(seconds);
  };
  const begins_s = await place_s();
  assert.ok(begins_s > 1, `${begins_s}`);
  await sheet.button('Play').tap();
  await until(page, 'it sounds', async () => (await place_s()) > 0 && (await place_s()) !== begins_s);
  assert.ok((await place_s()) > begins_s, 'it began elsewhere');
  await sheet.button('Pause').tap();
});

test('findings are treated by a tap, solved, and the sheets have places for fingers', async () => {
  await page.getByRole('button', { name: 'Treat everything found' }).tap();
  await undoSays(/treat everything/);
  assert.deepEqual(await tooSmall(page), []);
  await sheet.solve();
  await page.getByRole('tab', { name: 'Path' }).tap();
  await page.locator('.open-stage').waitFor();
  assert.deepEqual(await tooSmall(page), []);
  await page.getByRole('button', { name: 'Listening', exact: true }).tap();
  await page.locator('.listen-sheet').waitFor();
  assert.deepEqual(await tooSmall(page), []);
  await page.getByRole('button', { name: 'Close listening' }).tap();
});

const frame = (key: string) => page.locator(`.strands .frame[data-key="${key}"] .frame-line`);
const lowLane = () =>
  page
    .locator('.strands .frame[data-key^="bass.low."]')
    .evaluateAll((frames) => frames.map((one) => one.getAttribute('data-key')!.slice('bass.low.'.length)));

test('a stage is dragged along its lane by a finger, and moved back by a button', async () => {
  const before = await lowLane();
  const [x, y] = await middleOf(frame(`bass.low.${before[0]}`));
  const last = (await frame(`bass.low.${before.at(-1)}`).boundingBox())!;
  await fingers.drag([
    [
      [x, y],
      [x, last.y + last.height + 12],
    ],
  ]);
  await until(page, 'the first stage is the last', async () => (await lowLane()).at(-1) === before[0]);
  await frame(`bass.low.${before[0]}`).tap({ force: true });
  await page.getByRole('button', { name: /^Earlier in the lane/ }).tap();
  await until(page, 'it is the last but one', async () => (await lowLane()).at(-2) === before[0]);
});

test('a stage that keeps its place lets the page be scrolled; a setting dragged stands at once, two taps take it back', async () => {
  const [x, y] = await middleOf(frame('bass.make-room'));
  const from = await scrolled();
  await fingers.drag([
    [
      [x, y],
      [x, y + 100],
    ],
  ]);
  await until(page, 'the page is scrolled', async () => (await scrolled()) < from - 50);
  await pageRests();
  await frame('bass.make-room').tap({ force: true });
  const cut = page.locator('.settings').getByRole('slider', { name: 'cut', exact: true });
  await cut.waitFor();
  const solved = await cut.getAttribute('aria-valuenow');
  const [right, level] = await middleOf(cut);
  await fingers.drag([
    [
      [right, level],
      [right - 40, level],
    ],
  ]);
  await undoSays(/make room, cut to/);
  await until(page, 'it stands', async () => (await cut.getAttribute('aria-valuenow')) !== solved);
  await page.locator('.account').getByText('Last solved').waitFor();
  await cut.tap();
  await cut.tap();
  await undoSays(/make room, cut back to/);
  await until(page, 'it is as solved', async () => (await cut.getAttribute('aria-valuenow')) === solved);
  assert.equal(await page.locator('.blank-input').count(), 0);
});

test('a wish is dragged on the trade curve, and stands in its sentence', async () => {
  const wanted = page.locator('.wish-sentence').getByRole('slider');
  const before = await wanted.getAttribute('aria-valuenow');
  const [x, y] = await middleOf(page.locator('.wish-handle').first());
  await fingers.drag([
    [
      [x, y],
      [x, y + 30],
    ],
  ]);
  await undoSays(/wish hits at least 2 dB clear/);
  await until(page, 'it stands', async () => (await wanted.getAttribute('aria-valuenow')) !== before);
  assert.deepEqual(sheet.errors, []);
});
