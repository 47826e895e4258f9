import assert from 'node:assert/strict';
import type { Page } from 'playwright-core';
import { drawn } from './drawn.js';

/** A sheet of paper as PDF names it, in points (ISO 216: A4 is 210 x 297 mm). */
export interface PaperPage {
  readonly width_pt: number;
  readonly height_pt: number;
}

/** What comes out of the printer for the page as it stands, at the paper size that its own style asks for. */
export async function paperPages(page: Page): Promise<PaperPage[]> {
  const pdf = (await page.pdf({ preferCSSPageSize: true, printBackground: true })).toString('latin1');
  const boxes = [...pdf.matchAll(/\/Type\s*\/Page\b(?!s)[^]*?\/MediaBox\s*\[\s*0\s+0\s+([\d.]+)\s+([\d.]+)\s*\]/g)];
  return boxes.map(([, width, height]) => ({ width_pt: Number(width), height_pt: Number(height) }));
}

/** Smaller type is not read by everybody on paper. */
const SMALLEST_pt = 8;

/**
 * What is shown comes out as one sheet of A4 with nothing of it lost: no words beyond the edge of the paper's own margins, where
 * a sheet of fixed size would cut them off, and no type too small to read.
 */
export async function assertOneSheet(page: Page, paper: string): Promise<void> {
  await page.emulateMedia({ media: 'print' });
  await drawn(page);
  const pages = await paperPages(page);
  const { beyond, smallest_pt, words } = await page.locator(paper).evaluate(wordsOnPaper);
  await page.emulateMedia({ media: null });
  assert.equal(pages.length, 1, 'pages');
  assert.ok(Math.abs(pages[0]!.width_pt - 595.28) < 1 && Math.abs(pages[0]!.height_pt - 841.89) < 1, 'A4 upright');
  assert.ok(words > 0, 'there are words on it');
  assert.deepEqual(beyond, [], 'words beyond the margins');
  assert.ok(smallest_pt >= SMALLEST_pt, `type of ${smallest_pt} pt`);
}

function wordsOnPaper(paper: Element) {
  const box = paper.getBoundingClientRect();
  const style = getComputedStyle(paper);
  const right = box.right - parseFloat(style.paddingRight) + 1;
  const bottom = box.bottom - parseFloat(style.paddingBottom) + 1;
  const beyond: string[] = [];
  let smallest_px = Infinity;
  let words = 0;
  const texts = document.createTreeWalker(paper, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const text = texts.currentNode;
    const range = document.createRange();
    range.selectNodeContents(text);
    const place = range.getBoundingClientRect();
    if (text.textContent!.trim() === '' || place.width === 0) continue;
    words += 1;
    smallest_px = Math.min(smallest_px, parseFloat(getComputedStyle(text.parentElement!).fontSize));
    if (place.right > right || place.bottom > bottom) beyond.push(text.textContent!.slice(0, 60));
  }
  return { beyond, words, smallest_pt: 0.75 * smallest_px };
}
