import { BEATS_PER_BAR, barStart_s } from './beat-grid.js';
import { heldInside, type StripView } from './strip-view.js';
import type { StripSong } from './strip-song.js';

/** Bars that a strip of this width shows at first: eight, four on a narrow window, two on a phone. */
export function openingBars(width: number): number {
  return width >= 900 ? 8 : width >= 500 ? 4 : 2;
}

/** The view on opening a song: from its first bar; 16 s (or 8, 4) where there are no bars. */
export function openingView({ grid, duration_s }: Pick<StripSong, 'grid' | 'duration_s'>, width: number): StripView {
  const bars = openingBars(width);
  const from_s = grid === null ? 0 : Math.max(0, barStart_s(grid, 1) - 0.1 * grid.beat_s);
  const length = bars * (grid === null ? 2 : BEATS_PER_BAR * grid.beat_s);
  return heldInside({ from_s, to_s: from_s + length }, duration_s);
}

/** The view that holds a stretch, with some room round it, in whole bars where there are bars. */
export function viewOfStretch(
  { grid, duration_s }: Pick<StripSong, 'grid' | 'duration_s'>,
  from_s: number,
  to_s: number,
): StripView {
  const room = grid === null ? 1 : grid.beat_s;
  return heldInside({ from_s: from_s - room, to_s: to_s + room }, duration_s);
}
