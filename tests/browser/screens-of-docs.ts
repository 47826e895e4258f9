import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { repositoryRoot } from '../repository-root.js';
import { BuiltPage, type Sheet } from './built-page.js';

/* `npm run screens`: takes the pictures of docs/screens from the built page, with the demo song, as its user comes to them. */

const folder = process.argv[2] ?? join(repositoryRoot, 'docs', 'screens');
mkdirSync(folder, { recursive: true });
const built = await BuiltPage.open();
try {
  await takeAll(await built.newUser());
} finally {
  await built.close();
}

async function takeAll(sheet: Sheet): Promise<void> {
  const { page } = sheet;
  await sheet.button('Choose files').waitFor();
  await take(sheet, 'empty');
  await sheet.button('Keys').click();
  await take(sheet, 'keys');
  await closeRaised(sheet);
  await sheet.button('Open the demo song').click();
  await sheet.button('See the findings').waitFor();
  await take(sheet, 'stems');
  await sheet.button('See the findings').click();
  await sheet.choose(/covers|covered/);
  await take(sheet, 'findings');
  await takePhone(sheet, 'findings-phone');
  await sheet.button('Treat everything found').click();
  await sheet.tab('Path').click();
  await sheet.solve();
  await page.locator('.strands [data-key="bass.make-room"]').click();
  await take(sheet, 'path');
  await sheet.button('Play').click();
  await sheet.button('Listening').click();
  await take(sheet, 'listening');
  await sheet.button('Close listening').click();
  await sheet.button('Pause').click();
  await sheet.bar.getByRole('button', { name: 'Print', disabled: false }).click();
  await take(sheet, 'print');
  await page.locator('.print-sheet').getByRole('button', { name: 'Print' }).click();
  await page.locator('.proof-screen').waitFor();
  await take(sheet, 'proof');
  await sheet.button(/^Versions:/).click();
  await page.locator('.name-version input').fill('room for the kick');
  await sheet.button('Keep it').click();
  await take(sheet, 'versions');
  await closeRaised(sheet);
  await sheet.button(/^Client report/).click();
  await takePaper(sheet, 'report');
  await sheet.button('Back to the proof').click();
  await sheet.button(/^Recall/).click();
  await takePaper(sheet, 'recall');
}

async function closeRaised({ page }: Sheet): Promise<void> {
  await page.locator('.raised').getByRole('button', { name: 'Close', exact: true }).click();
}

/** On light and on dark paper. */
async function take(sheet: Sheet, name: string): Promise<void> {
  await sheet.drawn();
  await shoot(sheet, name);
  await onPaper(sheet, 'dark');
  await shoot(sheet, `${name}-dark`);
  await onPaper(sheet, 'light');
}

async function takePhone(sheet: Sheet, name: string): Promise<void> {
  const before = sheet.page.viewportSize()!;
  await sheet.page.setViewportSize({ width: 390, height: 844 });
  await sheet.drawn();
  await shoot(sheet, name);
  await sheet.page.setViewportSize(before);
  await sheet.drawn();
}

/** In a window that is high enough for the whole of it. */
async function takePaper(sheet: Sheet, name: string): Promise<void> {
  const before = sheet.page.viewportSize()!;
  await sheet.page.setViewportSize({ width: 1440, height: 1500 });
  await sheet.drawn();
  await sheet.page.locator('.a4').screenshot({ path: join(folder, `${name}.png`), animations: 'disabled' });
  await sheet.page.setViewportSize(before);
}

async function onPaper({ page }: Sheet, paper: 'light' | 'dark'): Promise<void> {
  await page.evaluate((now) => (document.documentElement.dataset['paper'] = now), paper);
}

async function shoot({ page }: Sheet, name: string): Promise<void> {
  await page.mouse.move(0, 0);
  await page.screenshot({ path: join(folder, `${name}.png`), animations: 'disabled' });
}
