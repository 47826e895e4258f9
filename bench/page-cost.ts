import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { BuiltPage, type Sheet } from '../tests/browser/built-page.js';
import { mainThreadTasks } from './main-thread-tasks.js';

/** What a song takes from the moment its files are dropped, in the built page, played while it is measured. */
export interface PageCost {
  readonly canPlay_s: number;
  readonly sounds_s: number;
  readonly firstFinding_s: number;
  readonly inspected_s: number;
  /** Processor time of the longest task of the page's own thread while the song is measured. */
  readonly longestTask_ms: number;
  /** The same when the findings are drawn for the first time. */
  readonly longestDrawing_ms: number;
}

export async function pageCost(folder: string): Promise<PageCost> {
  const built = await BuiltPage.open();
  try {
    const sheet = await built.newUser();
    // a browser that has just been started is busy with itself
    await sheet.page.waitForTimeout(SETTLING_ms);
    const times: number[] = [];
    const measuring = await mainThreadTasks(sheet.page, () => measured(sheet, folder, times));
    const drawing = await mainThreadTasks(sheet.page, async () => {
      await sheet.button('See the findings').click();
      await sheet.page.locator('.findings-list li').first().waitFor();
      await settled(sheet);
    });
    const [canPlay_s, sounds_s, firstFinding_s, inspected_s] = times as [number, number, number, number];
    const longest = (tasks: readonly number[]) => tasks.reduce((most, task) => Math.max(most, task), 0);
    const long = { longestTask_ms: longest(measuring), longestDrawing_ms: longest(drawing) };
    return { canPlay_s, sounds_s, firstFinding_s, inspected_s, ...long };
  } finally {
    await built.close();
  }
}

const SETTLING_ms = 3000;

async function measured(sheet: Sheet, folder: string, times: number[]): Promise<void> {
  const { page } = sheet;
  const chooser = page.waitForEvent('filechooser');
  await sheet.button('Choose files').click();
  const dropped_ms = performance.now();
  const passed = () => times.push((performance.now() - dropped_ms) / 1000);
  await (await chooser).setFiles(readdirSync(folder).map((name) => join(folder, name)));
  await sheet.button('Play').waitFor();
  passed();
  await sheet.button('Play').click();
  await page.waitForFunction(() => /[1-9]/.test(document.querySelector('.listen-bar .listen-dim')?.textContent ?? ''));
  passed();
  await page.getByText('so far, the dearest').first().waitFor();
  passed();
  await sheet.button('See the findings').waitFor();
  passed();
  await settled(sheet);
}

/** Until two frames are drawn: what is drawn in slices is drawn. */
async function settled({ page }: Sheet): Promise<void> {
  await page.evaluate(
    () =>
      new Promise<void>((done) =>
        requestIdleCallback(() => requestAnimationFrame(() => requestAnimationFrame(() => done()))),
      ),
  );
}
