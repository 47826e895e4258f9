import { x_of, type StripView } from './strip-view.js';

/**
 * Puts an element over a time of the strip it stands in, or hides it where the time is out of sight. The place is a share of the
 * strip (`cqw`), so that nothing has to be laid out to know it.
 */
export function placeAt(element: HTMLElement | null, view: StripView, time_s: number | null): void {
  if (element === null) return;
  const seen = time_s !== null && time_s >= view.from_s && time_s <= view.to_s;
  element.hidden = !seen;
  if (seen) element.style.transform = `translateX(${x_of(view, 100, time_s).toFixed(3)}cqw)`;
}
