import type { CDPSession, Locator, Page } from 'playwright-core';

export type Point = readonly [x: number, y: number];

/** More than a finger rests before it draws. */
const HELD_ms = 700;
const STEPS = 10;
/** A hand takes its time: a frame from step to step. */
const STEP_ms = 17;

/** Fingers on the glass, as the browser gets them from the system: it scrolls, zooms and cancels as it would for a hand. */
export class Fingers {
  private constructor(
    private readonly page: Page,
    private readonly session: CDPSession,
  ) {}

  static async of(page: Page): Promise<Fingers> {
    return new Fingers(page, await page.context().newCDPSession(page));
  }

  /** Each finger goes straight from its first point to its second; `held` rests before it moves. */
  async drag(
    ways: readonly (readonly [from: Point, to: Point])[],
    held: 'held' | 'at once' = 'at once',
  ): Promise<void> {
    await this.touch(
      'touchStart',
      ways.map(([from]) => from),
    );
    if (held === 'held') await this.page.waitForTimeout(HELD_ms);
    for (let step = 1; step <= STEPS; step++) {
      await this.page.waitForTimeout(STEP_ms);
      await this.touch(
        'touchMove',
        ways.map(([[x, y], [toX, toY]]) => [x + ((toX - x) * step) / STEPS, y + ((toY - y) * step) / STEPS]),
      );
    }
    await this.touch('touchEnd', []);
  }

  private async touch(type: 'touchStart' | 'touchMove' | 'touchEnd', points: readonly Point[]): Promise<void> {
    const touchPoints = points.map(([x, y], id) => ({ x, y, id }));
    await this.session.send('Input.dispatchTouchEvent', { type, touchPoints });
  }
}

/** The middle of what is drawn, brought into the middle of the window first. */
export async function middleOf(place: Locator): Promise<Point> {
  await place.evaluate((element) => element.scrollIntoView({ block: 'center' }));
  const box = await place.boundingBox();
  if (box === null) throw new Error('it is not drawn');
  return [box.x + box.width / 2, box.y + box.height / 2];
}

/** Controls whose place for a finger is less than 24 by 24 px (WCAG 2.2, 2.5.8), by name. */
export function tooSmall(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const controls = 'button, a[href], input, select, summary, [role=button], [role=slider], [role=tab], [role=switch]';
    const drawn = '.frame-hit, .wish-handle';
    const small = [...document.querySelectorAll<HTMLElement | SVGElement>(`${controls}, ${drawn}`)].flatMap(
      (element) => {
        // the words of a box that is ticked are touched too
        const ticked = element instanceof HTMLInputElement && /checkbox|radio/.test(element.type);
        const place = (ticked ? element.closest('label') : null) ?? element;
        // what is drawn is touched over the width of its stroke
        const stroke = parseFloat(getComputedStyle(element.querySelector('.frame-hit') ?? element).strokeWidth);
        const more = element instanceof SVGElement && Number.isFinite(stroke) ? stroke : 0;
        const { width, height } = place.getBoundingClientRect();
        const shown = width + height > 0 && getComputedStyle(element).visibility !== 'hidden';
        if (!shown || (width + more >= 24 && height + more >= 24)) return [];
        const name = element.getAttribute('aria-label') ?? element.textContent?.trim() ?? '';
        return [`${name} ${Math.round(width + more)} x ${Math.round(height + more)}`];
      },
    );
    return [...new Set(small)];
  });
}
