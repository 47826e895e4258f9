import { x_of, type StripView } from './strip-view.js';

/** Puts an element over a time of the strip it stands in, or hides it where the time is out of sight. */
export function placeAt(element: HTMLElement | null, view: StripView, time_s: number | null): void {
  if (element === null) return;
  const width = element.parentElement?.clientWidth ?? 0;
  const seen = time_s !== null && time_s >= view.from_s && time_s <= view.to_s;
  element.hidden = !seen;
  if (seen) element.style.transform = `translateX(${Math.round(10 * x_of(view, width, time_s)) / 10}px)`;
}
