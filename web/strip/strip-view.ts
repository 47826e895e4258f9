/** A stretch of song time in sight. */
export interface StripView {
  readonly from_s: number;
  readonly to_s: number;
}

/** The closest view: about one bar. */
export const CLOSEST_s = 2;

export function lengthOf({ from_s, to_s }: StripView): number {
  return to_s - from_s;
}

export function x_of(view: StripView, width: number, time_s: number): number {
  return ((time_s - view.from_s) / lengthOf(view)) * width;
}

export function time_of(view: StripView, width: number, x: number): number {
  return view.from_s + (x / width) * lengthOf(view);
}

/** The view held inside the song, not closer than `CLOSEST_s` (or the whole of a shorter song). */
export function heldInside(view: StripView, duration_s: number): StripView {
  const length = Math.min(duration_s, Math.max(Math.min(CLOSEST_s, duration_s), lengthOf(view)));
  const from_s = Math.max(0, Math.min(duration_s - length, view.from_s));
  return { from_s, to_s: from_s + length };
}

/** The view moved by a stretch of time. */
export function moved(view: StripView, by_s: number, duration_s: number): StripView {
  return heldInside({ from_s: view.from_s + by_s, to_s: view.to_s + by_s }, duration_s);
}

/** The view `factor` times as long (under 1: closer), with the time under `about_s` staying where it is. */
export function zoomed(view: StripView, factor: number, about_s: number, duration_s: number): StripView {
  return pinched(view, factor, about_s, (about_s - view.from_s) / lengthOf(view), duration_s);
}

/** The view `factor` times as long, with a time at a share of the width: where the middle of two fingers lies. */
export function pinched(
  view: StripView,
  factor: number,
  about_s: number,
  share: number,
  duration_s: number,
): StripView {
  const length = Math.max(Math.min(CLOSEST_s, duration_s), Math.min(duration_s, lengthOf(view) * factor));
  const from_s = about_s - share * length;
  return heldInside({ from_s, to_s: from_s + length }, duration_s);
}

/** The view unchanged where it shows the time already; else moved so that the time stands a quarter in. */
export function showing(view: StripView, time_s: number, duration_s: number): StripView {
  if (time_s >= view.from_s && time_s <= view.to_s) return view;
  return moved(view, time_s - (view.from_s + 0.25 * lengthOf(view)), duration_s);
}
