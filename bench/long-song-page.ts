import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { percentile } from '../core/units/statistics.js';
import { BuiltPage } from '../tests/browser/built-page.js';
import { findBrowser } from '../tests/browser/find-browser.js';
import { mainThreadTasks } from './main-thread-tasks.js';

/** What the built page takes in a browser with a long song open. */
export interface LongSongPage {
  /** From choosing the files to the findings. */
  readonly opened_s: number;
  /** Time between two frames while the strip is scrolled and zoomed. */
  readonly frame_p50_ms: number;
  readonly frame_p95_ms: number;
  /** Processor time of the page's own thread for a frame: what a busy machine says less about. */
  readonly frameCpu_p95_ms: number;
  /** Processor time of its longest task meanwhile. */
  readonly longestTask_ms: number;
  /** Most memory that the page's process held, with all its workers, from opening to playing. */
  readonly peakMemory_MB: number;
}

const MOVED_S = 3;
const PLAYED_S = 5;

/** @returns null where no browser is found. */
export async function longSongPage(songFolder: string): Promise<LongSongPage | null> {
  if (findBrowser() === null) return null;
  const built = await BuiltPage.open();
  try {
    const sheet = await built.newUser();
    const { page } = sheet;
    const begin = performance.now();
    const chooser = page.waitForEvent('filechooser');
    await sheet.button('Choose files').click();
    await (await chooser).setFiles(readdirSync(songFolder).map((name) => join(songFolder, name)));
    await sheet.button('See the findings').waitFor({ timeout: 1_200_000 });
    const opened_s = (performance.now() - begin) / 1000;
    await sheet.button('See the findings').click();
    const frames = await framesWhileMoved(page);
    await sheet.button('Play').click();
    await page.waitForTimeout(PLAYED_S * 1000);
    return { opened_s, ...frames, peakMemory_MB: peakOfRenderers_MB() };
  } finally {
    await built.close();
  }
}

/** Scrolls and zooms the strip at every frame, as a wheel does, and times the frames. */
async function framesWhileMoved(page: Page): Promise<Omit<LongSongPage, 'opened_s' | 'peakMemory_MB'>> {
  await page.locator('.strip-body').waitFor();
  let frames_ms: number[] = [];
  const tasks_ms = await mainThreadTasks(page, async () => {
    frames_ms = await page.evaluate(moveStrip, MOVED_S);
  });
  // a frame is one task, and every other task is short beside it
  const ofFrames_ms = tasks_ms.sort((a, b) => b - a).slice(0, frames_ms.length);
  return {
    frame_p50_ms: percentile(frames_ms, 50),
    frame_p95_ms: percentile(frames_ms, 95),
    frameCpu_p95_ms: percentile(ofFrames_ms, 95),
    longestTask_ms: ofFrames_ms[0] ?? 0,
  };
}

/** In the page. @returns the time between every two frames. */
function moveStrip(seconds: number): Promise<number[]> {
  const strip = document.querySelector('.strip-body')!;
  const { left, top, width, height } = strip.getBoundingClientRect();
  const place = { bubbles: true, cancelable: true, clientX: left + width / 2, clientY: top + height / 2 };
  const frames_ms: number[] = [];
  return new Promise((done) => {
    const begun = performance.now();
    let last = NaN;
    const frame = (): void => {
      const now = performance.now();
      if (!Number.isNaN(last)) frames_ms.push(now - last);
      last = now;
      // Half a second each of zooming out, scrolling, zooming in, scrolling.
      const phase = Math.floor((now - begun) / 500) % 4;
      if (phase % 2 === 0)
        strip.dispatchEvent(new WheelEvent('wheel', { ...place, ctrlKey: true, deltaY: phase === 0 ? 40 : -40 }));
      else strip.dispatchEvent(new WheelEvent('wheel', { ...place, deltaX: phase === 1 ? 60 : -60 }));
      if (now - begun < 1000 * seconds) requestAnimationFrame(frame);
      else done(frames_ms);
    };
    requestAnimationFrame(frame);
  });
}

/** The largest peak of resident memory among the renderers that this process started; NaN where the system does not tell. */
function peakOfRenderers_MB(): number {
  let most = NaN;
  for (const name of processFolders()) {
    const status = textOf(`/proc/${name}/status`);
    if (!textOf(`/proc/${name}/cmdline`).includes('--type=renderer') || !isOurs(name)) continue;
    const kB = Number(/^VmHWM:\s+(\d+) kB/m.exec(status)?.[1]);
    if (!(kB / 1000 <= most)) most = kB / 1000;
  }
  return most;
}

function processFolders(): string[] {
  try {
    return readdirSync('/proc').filter((name) => /^\d+$/.test(name));
  } catch {
    return [];
  }
}

function isOurs(processId: string): boolean {
  for (
    let id = processId;
    id !== '' && id !== '0';
    id = /^PPid:\s+(\d+)/m.exec(textOf(`/proc/${id}/status`))?.[1] ?? ''
  ) {
    if (Number(id) === process.pid) return true;
  }
  return false;
}

/** Nothing where a process has ended meanwhile. */
function textOf(path: string): string {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return '';
  }
}
