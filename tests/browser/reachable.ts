import assert from 'node:assert/strict';
import type { Page, ViewportSize } from 'playwright-core';
import { drawn } from './drawn.js';

/** 1440 x 900 at 200 %, and a phone. */
export const SMALL_WINDOWS: readonly ViewportSize[] = [
  { width: 720, height: 450 },
  { width: 390, height: 844 },
];

/** In small windows every control still gets the pointer at its middle once it is scrolled to, and nothing scrolls sideways. */
export async function assertReachable(page: Page, state: string): Promise<void> {
  const before = page.viewportSize();
  for (const size of SMALL_WINDOWS) {
    await page.setViewportSize(size);
    const { controls, unreachable, sideways } = await settledLook(page);
    const where = `${state} at ${size.width} x ${size.height}`;
    assert.ok(controls > 0, `${where}: controls were found`);
    assert.deepEqual(unreachable, [], where);
    assert.equal(sideways, 0, `${where}: pixels beside the window`);
  }
  if (before !== null) await page.setViewportSize(before);
  await drawn(page);
}

const MOST_LOOKS = 15;

/** Figures are laid out anew some frames after the window has changed: a fault counts once it stays. */
async function settledLook(page: Page): Promise<ReturnType<typeof lookAtControls>> {
  await drawn(page);
  for (let look = 1; look < MOST_LOOKS; look++) {
    const seen = await page.evaluate(lookAtControls);
    if (seen.controls > 0 && seen.unreachable.length === 0 && seen.sideways === 0) return seen;
    await drawn(page);
  }
  return page.evaluate(lookAtControls);
}

function lookAtControls() {
  const kinds =
    'button, a[href], input, select, textarea, summary, [role=tab], [role=slider], [role=radio], [tabindex="0"]';
  const shown = [...document.querySelectorAll<HTMLElement>(kinds)].filter((control) => {
    const { width, height } = control.getBoundingClientRect();
    return control.checkVisibility({ visibilityProperty: true }) && width > 0 && height > 0;
  });
  const unreachable: string[] = [];
  for (const control of shown) {
    // a native field that is drawn by its label is reached by the label
    const { width } = control.getBoundingClientRect();
    const place = (width <= 2 ? control.closest('label') : null) ?? control;
    place.scrollIntoView({ block: 'center', inline: 'center', behavior: 'instant' });
    const box = place.getBoundingClientRect();
    const hit = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    const reached = hit !== null && (place.contains(hit) || hit.closest('label')?.contains(control) === true);
    if (!reached)
      unreachable.push(`${place.outerHTML.slice(0, 120)} is under ${hit?.outerHTML.slice(0, 80) ?? 'nothing'}`);
  }
  window.scrollTo(0, 0);
  const sideways = Math.max(0, document.documentElement.scrollWidth - window.innerWidth);
  return { controls: shown.length, unreachable, sideways };
}
