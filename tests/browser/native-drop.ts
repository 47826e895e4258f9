import type { Page } from 'playwright-core';

/** What is carried: paths of files and folders on the disk, or words. */
export interface Carried {
  readonly files: readonly string[];
  readonly words?: string;
}

/** Drops on the place for songs as the system does it: a folder arrives with its real entry and handle. */
export async function dropOnSheet(page: Page, { files, words }: Carried): Promise<void> {
  const place = await page.locator('.drop').boundingBox();
  if (place === null) throw new Error('there is no place to drop a song on');
  const items = words === undefined ? [] : [{ mimeType: 'text/plain', data: words }];
  const data = { items, files: [...files], dragOperationsMask: 1 };
  const session = await page.context().newCDPSession(page);
  for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
    await session.send('Input.dispatchDragEvent', { type, x: place.x + 40, y: place.y + 40, data });
  }
  await session.detach();
}

/** A headless browser has nobody to ask whether the folder may be written: the answer is no. */
export async function withoutLeave(page: Page): Promise<void> {
  await page.evaluate(() =>
    Object.assign(FileSystemHandle.prototype, { requestPermission: () => Promise.resolve('denied') }),
  );
}

/** The page is told yes, but the browser has given no leave: every writing is refused, as after a leave was taken back. */
export async function withLeaveTakenBack(page: Page): Promise<void> {
  await page.evaluate(() =>
    Object.assign(FileSystemHandle.prototype, { requestPermission: () => Promise.resolve('granted') }),
  );
}
