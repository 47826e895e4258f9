import { breakMark } from './break-mark.js';
import type { Stroke } from './drawing.js';
import { CLEAR_dB } from './hit-mark.js';
import { pathData } from './path-data.js';

export interface BandPlace {
  readonly x: number;
  /** As thick as the band counts; 0 is a hairline. */
  readonly thickness: number;
  readonly margin_dB: number;
  readonly p10_dB: number;
  readonly p90_dB: number;
  readonly contested: boolean;
  readonly y: (level_dB: number) => number;
  /** Largest margin that the scale can show, above and below. */
  readonly most_dB: number;
  readonly least_dB: number;
}

/** One band of the kick on the waterline: solid where the kick is clear, hollow under 2 dB, sunk and dashed under 0 dB. */
export function bandMark(place: BandPlace): Stroke[] {
  const { x, thickness, y, margin_dB, contested } = place;
  const shown = Math.max(place.least_dB, Math.min(place.most_dB, margin_dB));
  if (thickness <= 0) {
    const beyond = shown !== margin_dB;
    const hair: Stroke = { path: pathData.upright(x, y(0), y(shown)), ink: 'kick', width: 0.8 };
    return beyond ? [hair, breakMark(x, y(shown) + (shown > 0 ? 6 : -6), 'upright')] : [hair];
  }
  const top = Math.min(y(0), y(shown));
  const height = Math.abs(y(shown) - y(0));
  const box = pathData.box(x - thickness / 2, top, thickness, height);
  const body: Stroke =
    shown >= CLEAR_dB
      ? { path: box, ink: 'kick', width: 0.8, fill: 'kick' }
      : { path: box, ink: 'kick', width: 1.25, fill: 'paper', ...(shown < 0 ? { dash: [2, 2] } : {}) };
  return [
    ...spread(place),
    body,
    ...(contested ? crossed(x, thickness, top, height) : []),
    ...(shown === margin_dB ? [] : [breakMark(x, y(shown) + (shown > 0 ? 6 : -6), 'upright')]),
  ];
}

/** Thin ends at the lowest and highest tenth of the hits. */
function spread({ x, p10_dB, p90_dB, y, most_dB, least_dB }: BandPlace): Stroke[] {
  const low = y(Math.max(least_dB, Math.min(most_dB, p10_dB)));
  const high = y(Math.max(least_dB, Math.min(most_dB, p90_dB)));
  const path = pathData.upright(x, low, high) + pathData.level(x - 3, x + 3, low) + pathData.level(x - 3, x + 3, high);
  return [{ path, ink: 'ink', width: 0.9 }];
}

function crossed(x: number, thickness: number, top: number, height: number): Stroke[] {
  let levels = '';
  for (let at = top + 2; at < top + height; at += 3) levels += pathData.level(x - thickness / 2, x + thickness / 2, at);
  return levels === '' ? [] : [{ path: levels, ink: 'bass', width: 1.4 }];
}
