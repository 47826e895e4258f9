import assert from 'node:assert/strict';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { repositoryRoot } from '../repository-root.js';
import { drawn } from './drawn.js';

/*
 * A picture of the page is compared by the mean luminance of blocks of 12 px, about a line of text high: one page at 1440 x 900 is
 * a small grey picture of 120 x 75. Another browser draws the edge of a letter or a hairline otherwise, which moves a block's mean
 * by a little; a line, a column or a figure that stands elsewhere moves whole blocks from ground to text. Measured for this project,
 * in luminance of 255, mean of all blocks and worst block: the same browser again, or with full hinting, 0 and 0; letters at whole
 * pixels only (where no line breaks otherwise for it) 0.15 and 11; everything 2 px lower 2.7 and 35, 6 px lower 7.5 and 106; a
 * column 12 px wider 3.4 and 187; the serif lost 5.3 and 211. The limits stand in the gap. They do not see colour: inks have their
 * own test.
 */
const BLOCK_px = 12;
/** Mean of all blocks' differences. */
const MOST_MEAN = 0.6;
/** Any one block, beyond which it counts as changed, and the share of blocks that may. */
const MOST_BLOCK = 20;
const MOST_CHANGED = 0.002;

export interface GreyPicture {
  readonly width: number;
  readonly height: number;
  /** Luminance, 0 to 255, row by row. */
  readonly blocks: readonly number[];
}

export interface PictureDifference {
  readonly mean: number;
  readonly changed: number;
}

/** The page as it is kept in `pictures`, on light and on dark paper. */
export async function assertPictures(page: Page, name: string): Promise<void> {
  const standing = await page.evaluate(() => document.documentElement.dataset['paper'] ?? 'light');
  for (const paper of ['light', 'dark']) {
    await turnTo(page, paper);
    await assertPicture(page, `${name}-${paper}`);
  }
  await turnTo(page, standing);
}

async function turnTo(page: Page, paper: string): Promise<void> {
  await page.evaluate((next) => (document.documentElement.dataset['paper'] = next), paper);
}

/** With KEELSON_NEW_PICTURES set the page is kept as it is now, to be looked at before it is committed. */
async function assertPicture(page: Page, name: string): Promise<void> {
  const path = join(repositoryRoot, 'tests', 'browser', 'pictures', `${name}.png`);
  if (process.env['KEELSON_NEW_PICTURES'] !== undefined) {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, await pngOf(page, await greyPicture(page)));
    return;
  }
  assert.ok(existsSync(path), `there is no picture ${name}: run this test with KEELSON_NEW_PICTURES=1 and look at it`);
  const difference = await settledDifference(page, await greyOf(page, readFileSync(path), 1));
  const { mean, changed } = difference;
  const says = `blocks differ by ${mean.toFixed(2)} in the mean, ${(100 * changed).toFixed(2)} % by more than ${MOST_BLOCK}`;
  assert.ok(isAlike(difference), `${name}: ${says}`);
}

const MOST_LOOKS = 8;

/** A figure is painted a frame or more after the sheet stands: a difference counts once it stays. */
async function settledDifference(page: Page, kept: GreyPicture): Promise<PictureDifference> {
  for (let look = 1; look < MOST_LOOKS; look++) {
    const difference = differenceOf(await greyPicture(page), kept);
    if (isAlike(difference)) return difference;
  }
  return differenceOf(await greyPicture(page), kept);
}

/** What is to be seen in the window now, without what tells the time of day. */
export async function greyPicture(page: Page): Promise<GreyPicture> {
  await drawn(page);
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
  const png = await page.screenshot({ animations: 'disabled', caret: 'hide', mask: [page.locator('.title-block')] });
  return greyOf(page, png, BLOCK_px);
}

export function isAlike({ mean, changed }: PictureDifference): boolean {
  return mean <= MOST_MEAN && changed <= MOST_CHANGED;
}

export function differenceOf(one: GreyPicture, other: GreyPicture): PictureDifference {
  assert.deepEqual([one.width, one.height], [other.width, other.height], 'blocks across and down');
  const differences = one.blocks.map((value, n) => Math.abs(value - other.blocks[n]!));
  return {
    mean: differences.reduce((sum, value) => sum + value, 0) / differences.length,
    changed: differences.filter((value) => value > MOST_BLOCK).length / differences.length,
  };
}

/** Read by the browser itself: mean luminance (weights of sRGB, on the values as stored) of every whole block. */
function greyOf(page: Page, png: Buffer, block_px: number): Promise<GreyPicture> {
  return page.evaluate(
    async ([base64, block]) => {
      const bytes = Uint8Array.from(atob(base64), (char) => char.charCodeAt(0));
      const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
      const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d')!;
      context.drawImage(bitmap, 0, 0);
      const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
      const width = Math.floor(bitmap.width / block);
      const height = Math.floor(bitmap.height / block);
      const blocks = new Array<number>(width * height).fill(0);
      for (let y = 0; y < height * block; y++) {
        for (let x = 0; x < width * block; x++) {
          const at = 4 * (y * bitmap.width + x);
          const grey = 0.2126 * data[at]! + 0.7152 * data[at + 1]! + 0.0722 * data[at + 2]!;
          blocks[Math.floor(y / block) * width + Math.floor(x / block)]! += grey / (block * block);
        }
      }
      return { width, height, blocks };
    },
    [png.toString('base64'), block_px] as const,
  );
}

async function pngOf(page: Page, { width, height, blocks }: GreyPicture): Promise<Buffer> {
  const base64 = await page.evaluate(
    async ({ across, down, values }) => {
      const canvas = new OffscreenCanvas(across, down);
      const context = canvas.getContext('2d')!;
      const image = context.createImageData(across, down);
      values.forEach((value, n) => image.data.set([value, value, value, 255], 4 * n));
      context.putImageData(image, 0, 0);
      const bytes = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/png' })).arrayBuffer());
      return btoa(String.fromCharCode(...bytes));
    },
    { across: width, down: height, values: blocks.map(Math.round) },
  );
  return Buffer.from(base64, 'base64');
}
