import assert from 'node:assert/strict';
import type { Page } from 'playwright-core';
import { drawn } from './drawn.js';

/** Where the keyboard stands: what it is called, and what is wrong with it there. */
interface Stop {
  /** Role and name, as they are read out. */
  readonly name: string;
  /** Tells stops apart that are called the same. */
  readonly id: string;
  readonly faults: readonly string[];
}

const MOST_STOPS = 200;

/** Goes on by Tab (or back by Shift and Tab) until a stop is called so; every stop on the way is seen to be in sight and marked. */
export async function tabTo(page: Page, name: RegExp, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  const met: string[] = [];
  for (let n = 0; n < MOST_STOPS; n++) {
    await page.keyboard.press(key);
    const stop = await settledStop(page);
    if (stop === null) continue;
    assert.deepEqual(stop.faults, [], stop.name);
    if (name.test(stop.name)) return;
    met.push(stop.name);
  }
  assert.fail(`${key} never comes to ${name}; it comes to ${[...new Set(met)].join(', ')}`);
}

/** Once round the page by Tab: every stop in order. Fails where the keyboard is caught or a stop cannot be seen. */
export async function onceRound(page: Page): Promise<string[]> {
  const stops: Stop[] = [];
  for (let n = 0; n < MOST_STOPS; n++) {
    await page.keyboard.press('Tab');
    const stop = await settledStop(page);
    // between the last stop and the first the keyboard leaves the page
    if (stop === null) continue;
    if (stop.id === stops[0]?.id) {
      assert.deepEqual(
        stops.flatMap(({ name, faults }) => faults.map((fault) => `${name}: ${fault}`)),
        [],
      );
      return stops.map((one) => one.name);
    }
    assert.ok(
      stops.every(({ id }) => id !== stop.id),
      `caught: after ${stops.at(-1)?.name} the keyboard comes back to ${stop.name}`,
    );
    stops.push(stop);
  }
  return assert.fail(`the keyboard does not come round in ${MOST_STOPS} stops`);
}

const MOST_LOOKS = 10;

/** A sheet is drawn, or scrolled to what has focus, some frames after the key: a fault counts once it stays. */
async function settledStop(page: Page): Promise<Stop | null> {
  for (let look = 1; look < MOST_LOOKS; look++) {
    const stop = await stopOf(page);
    if (stop === null || stop.faults.length === 0) return stop;
    await drawn(page);
  }
  return stopOf(page);
}

/** What has focus now; null where it is nothing of the page. */
async function stopOf(page: Page): Promise<Stop | null> {
  return page.evaluate(() => {
    const active = document.activeElement;
    if (active === null || active === document.body) return null;
    const marks = globalThis as typeof globalThis & { keelsonStops?: WeakMap<Element, string>; keelsonCount?: number };
    marks.keelsonStops ??= new WeakMap();
    marks.keelsonCount ??= 0;
    const id = marks.keelsonStops.get(active) ?? String(++marks.keelsonCount);
    marks.keelsonStops.set(active, id);

    const outlined = (element: Element): boolean => {
      const { outlineStyle, outlineWidth } = getComputedStyle(element);
      return outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2;
    };
    const stroked = (element: Element): boolean => {
      const { stroke, strokeWidth, visibility, display } = getComputedStyle(element);
      return stroke !== 'none' && parseFloat(strokeWidth) >= 1 && visibility !== 'hidden' && display !== 'none';
    };
    // a field that its label draws is marked at the label; a frame among strands at its own stroke
    const label = active.closest('label');
    const frame = [...active.querySelectorAll('.frame-focus')];
    const marked =
      outlined(active) ||
      (label !== null && outlined(label)) ||
      frame.some(stroked) ||
      [...active.children].some(outlined) ||
      (active.parentElement !== null && outlined(active.parentElement));

    const drawn = active.getBoundingClientRect();
    const box = drawn.width <= 2 && label !== null ? label.getBoundingClientRect() : drawn;
    // WCAG 2.2, 2.4.11: some of it is in the window and under nothing else
    const seenAt = (x: number, y: number): boolean => {
      const top = document.elementFromPoint(box.x + x * box.width, box.y + y * box.height);
      return top !== null && (active.contains(top) || label?.contains(top) === true);
    };
    const shares = [0.05, 0.35, 0.65, 0.95];
    const inSight = box.width > 0 && box.height > 0 && shares.some((y) => shares.some((x) => seenAt(x, y)));
    const readOut = (element: Element): string => {
      const copy = element.cloneNode(true) as Element;
      for (const hidden of copy.querySelectorAll('[aria-hidden="true"]')) hidden.remove();
      return copy.textContent;
    };
    const words = active.getAttribute('aria-label') ?? readOut(label ?? active);
    return {
      name: `${active.getAttribute('role') ?? active.tagName.toLowerCase()} ${words.replace(/\s+/g, ' ').trim()}`,
      id,
      faults: [...(marked ? [] : ['no mark of focus']), ...(inSight ? [] : ['out of sight'])],
    };
  });
}
