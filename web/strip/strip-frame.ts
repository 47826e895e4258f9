import type { StripView } from './strip-view.js';
import { lengthOf } from './strip-view.js';

/** Where a row of the strip is drawn: the stretch of song in sight and the row's place on the paper. */
export interface StripFrame {
  readonly view: StripView;
  readonly width: number;
  readonly top: number;
  readonly height: number;
  /** Length of a beat, or half a second where no tempo was found: what merging and figures go by. */
  readonly beat_s: number;
}

export function px_per_s({ view, width }: StripFrame): number {
  return width / lengthOf(view);
}

export function px_per_beat(frame: StripFrame): number {
  return px_per_s(frame) * frame.beat_s;
}

/** The part of a list, sorted by time, that may be in sight; `before_s` is how long an entry may last. */
export function inSight<Entry>(
  entries: readonly Entry[],
  time_s: (entry: Entry) => number,
  { from_s, to_s }: StripView,
  before_s: number,
): readonly Entry[] {
  return entries.slice(
    firstAtOrAfter(entries, time_s, from_s - before_s),
    firstAtOrAfter(entries, time_s, to_s + 0.05),
  );
}

/** Index of the first entry at or after a time. */
export function firstAtOrAfter<Entry>(
  entries: readonly Entry[],
  time_s: (entry: Entry) => number,
  at_s: number,
): number {
  let low = 0;
  let high = entries.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (time_s(entries[middle]!) < at_s) low = middle + 1;
    else high = middle;
  }
  return low;
}
