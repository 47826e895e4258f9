import type { Place } from '../marks/drawing.js';

/** The place nearest to a point, rows first: a place whose height holds the point goes before one that does not. */
export function nearestPlace(places: readonly Place[], x: number, y: number): Place | null {
  const beside = ({ top, bottom }: Place): number => (y < top ? top - y : y > bottom ? y - bottom : 0);
  let best: Place | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const place of places) {
    const distance = Math.abs(place.x - x) + 20 * beside(place);
    if (distance < least) [best, least] = [place, distance];
  }
  return best;
}

/** Further from a place than this the song is read somewhere else. */
const SAME_s = 0.03;

/** The place that stands for a time of the song; null where the figure has none. */
export function placeAtTime(places: readonly Place[], time_s: number | null): Place | null {
  if (time_s === null) return null;
  let best: Place | null = null;
  let least = SAME_s;
  for (const place of places) {
    const apart = place.time_s === undefined ? Number.POSITIVE_INFINITY : Math.abs(place.time_s - time_s);
    if (apart <= least) [best, least] = [place, apart];
  }
  return best;
}

/**
 * Where a key goes in a figure: left and right one place (with Shift, ten), Home and End to its ends, Escape back out. Undefined
 * where the key is not the figure's.
 */
export function placeByKey(
  places: readonly Place[],
  now: Place | null,
  key: string,
  shift: boolean,
): Place | null | undefined {
  if (places.length === 0) return undefined;
  const at = now === null ? -1 : places.indexOf(now);
  const held = (index: number): Place => places[Math.max(0, Math.min(places.length - 1, index))]!;
  const step = shift ? 10 : 1;
  switch (key) {
    case 'ArrowRight':
    case 'ArrowDown':
    case ']':
      return held(at + step);
    case 'ArrowLeft':
    case 'ArrowUp':
    case '[':
      return held(at < 0 ? places.length - 1 : at - step);
    case 'Home':
      return held(0);
    case 'End':
      return held(places.length - 1);
    case 'Escape':
      return now === null ? undefined : null;
    default:
      return undefined;
  }
}
