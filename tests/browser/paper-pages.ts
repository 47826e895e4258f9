import type { Page } from 'playwright-core';

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
