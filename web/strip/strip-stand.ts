import { BEATS_PER_BAR } from './beat-grid.js';
import type { StripAction } from './strip-keys.js';
import { STRIP_ROWS, type StripRowId } from './strip-rows.js';
import type { StripSong } from './strip-song.js';
import { nextStep_s, stepTimes_s } from './strip-steps.js';
import { heldInside, zoomed, type StripView } from './strip-view.js';

/** Where the keyboard stands in the strip. */
export interface StripStand {
  readonly time_s: number;
  readonly row: StripRowId;
}

/** Where one stands, and what is in sight, after a key that moves. Rows go round from kick to notes to lows only. */
export function movedBy(
  action: StripAction,
  stand: StripStand,
  song: StripSong,
  view: StripView,
): { readonly stand: StripStand; readonly view: StripView } {
  const { duration_s } = song;
  const to = (time_s: number): StripStand => ({ ...stand, time_s: Math.max(0, Math.min(duration_s, time_s)) });
  switch (action.kind) {
    case 'move': {
      const step_s = song.beat_s * (action.by === 'bar' ? BEATS_PER_BAR : 1);
      return { stand: to(onGrid(song, stand.time_s + action.direction * step_s)), view };
    }
    case 'row': {
      const at = STRIP_ROWS.indexOf(stand.row) + action.direction;
      return { stand: { ...stand, row: STRIP_ROWS[Math.max(1, Math.min(STRIP_ROWS.length - 1, at))]! }, view };
    }
    case 'step':
      return {
        stand: to(nextStep_s(stepTimes_s(song, stand.row), stand.time_s, action.direction) ?? stand.time_s),
        view,
      };
    case 'first':
      return { stand: to(stepTimes_s(song, stand.row)[0] ?? 0), view };
    case 'last':
      return { stand: to(stepTimes_s(song, stand.row).at(-1) ?? duration_s), view };
    case 'zoom':
      return { stand, view: zoomed(view, action.factor, stand.time_s, duration_s) };
    case 'whole-song':
      return { stand, view: heldInside({ from_s: 0, to_s: duration_s }, duration_s) };
    default:
      return { stand, view };
  }
}

/** The nearest beat, where there are beats. */
function onGrid({ grid }: StripSong, time_s: number): number {
  if (grid === null) return time_s;
  return grid.bar1_s + Math.round((time_s - grid.bar1_s) / grid.beat_s) * grid.beat_s;
}
