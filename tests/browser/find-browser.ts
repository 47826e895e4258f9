import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'microsoft-edge'];

/** Path of a Chromium-family browser: KEELSON_BROWSER, or the first of the known names on PATH; null where there is none. */
export function findBrowser(): string | null {
  const given = process.env['KEELSON_BROWSER'];
  if (given !== undefined && given !== '') return given;
  for (const folder of (process.env['PATH'] ?? '').split(delimiter)) {
    const found = NAMES.map((name) => join(folder, name)).find(mayRun);
    if (found !== undefined) return found;
  }
  return null;
}

function mayRun(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Opens a browser that reaches nothing but this machine, with sound allowed from the start. */
export function openBrowser(): Promise<Browser> {
  const args = [
    '--autoplay-policy=no-user-gesture-required',
    '--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE 127.0.0.1 , EXCLUDE localhost',
  ];
  const executablePath = findBrowser();
  return executablePath === null
    ? chromium.launch({ channel: 'chrome', args })
    : chromium.launch({ executablePath, args });
}
