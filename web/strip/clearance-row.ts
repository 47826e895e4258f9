import type { HitClearance } from '../../core/measure/clearance.js';
import { overlaid, type Drawing, type Label, type Stroke } from '../marks/drawing.js';
import { CLEAR_dB, HitPens } from '../marks/hit-mark.js';
import { PathPen } from '../marks/path-pen.js';
import { waterlineMark } from '../marks/waterline-mark.js';
import { sayLevel } from './say-level.js';
import { isMerged, mergeColumns } from './merge-columns.js';
import { keptOnPaper, placeLabels } from './place-labels.js';
import { inSight, px_per_beat, type StripFrame } from './strip-frame.js';
import { x_of } from './strip-view.js';

/** How high and how deep the row shows, dB. */
export interface ClearanceScale {
  readonly most_dB: number;
  readonly least_dB: number;
}

const FIGURES_FROM_px_per_beat = 60;
const COLUMN = 3;

/** High enough for three hits of four and deep enough for all but the deepest: 8..16 dB up, 4..12 dB down. */
export function clearanceScale(hits: readonly HitClearance[]): ClearanceScale {
  const sorted = hits
    .flatMap(({ clearance_dB }) => (clearance_dB === null ? [] : [clearance_dB]))
    .sort((a, b) => a - b);
  if (sorted.length === 0) return { most_dB: 8, least_dB: -5 };
  const at = (share: number): number => sorted[Math.round(share * (sorted.length - 1))]!;
  return {
    most_dB: Math.max(8, Math.min(16, Math.ceil(at(0.75)))),
    least_dB: Math.min(-4, Math.max(-12, Math.floor(at(0.02)))),
  };
}

/** Where a level lies in the row. */
export function clearance_y(frame: StripFrame, scale: ClearanceScale, level_dB: number): number {
  const perDb = frame.height / (scale.most_dB - scale.least_dB);
  return frame.top + (scale.most_dB - level_dB) * perDb;
}

/** The kick's row: every hit on the waterline; merged to least and most where a beat is under 4 px. */
export function clearanceRow(
  hits: readonly HitClearance[],
  frame: StripFrame,
  scale: ClearanceScale,
  treated: readonly HitClearance[] | null = null,
): Drawing {
  const zero_y = clearance_y(frame, scale, 0);
  const bottom_y = frame.top + frame.height;
  const perDb = frame.height / (scale.most_dB - scale.least_dB);
  const water = waterlineMark({ left: 0, right: frame.width, zero_y, bottom_y, px_per_dB: perDb });
  const seen = inSight(treated ?? hits, (hit) => hit.time_s, frame.view, 0.05);
  const drawn = isMerged(frame, seen.length) ? mergedHits(seen, frame, scale) : singleHits(seen, frame, scale);
  const before = treated === null ? [] : sourceHits(hits, frame, scale);
  return overlaid([{ strokes: [...water, ...before], labels: [] }, drawn]);
}

/** Where the hits stood at the source: hollow diamonds under the treated hits. */
function sourceHits(hits: readonly HitClearance[], frame: StripFrame, scale: ClearanceScale): Stroke[] {
  const seen = inSight(hits, (hit) => hit.time_s, frame.view, 0.05);
  if (isMerged(frame, seen.length)) return [];
  const pen = new PathPen();
  for (const { time_s, clearance_dB } of seen) {
    if (clearance_dB === null) continue;
    const level = Math.max(scale.least_dB, Math.min(scale.most_dB, clearance_dB));
    pen.diamond(x_of(frame.view, frame.width, time_s), clearance_y(frame, scale, level), 3.5);
  }
  return [{ path: '', pen: pen.path, ink: 'ink', width: 1.5, fill: 'paper' }];
}

function singleHits(hits: readonly HitClearance[], frame: StripFrame, scale: ClearanceScale): Drawing {
  const pens = new HitPens();
  const labels: Label[] = [];
  const zero_y = clearance_y(frame, scale, 0);
  const everyFigure = px_per_beat(frame) >= FIGURES_FROM_px_per_beat;
  const lowest = Math.min(...hits.map(({ clearance_dB }) => clearance_dB ?? 0));
  for (const hit of hits) {
    if (hit.clearance_dB === null) continue;
    const x = x_of(frame.view, frame.width, hit.time_s);
    const level = hit.clearance_dB;
    pens.add({
      x,
      clearance_dB: level,
      zero_y,
      px_per_dB: frame.height / (scale.most_dB - scale.least_dB),
      top_y: frame.top + 2,
      bottom_y: frame.top + frame.height - 4,
    });
    const broken = level > scale.most_dB;
    if (!(broken || everyFigure || (level < 0 && level === lowest))) continue;
    const y = Math.max(frame.top + 10, Math.min(frame.top + frame.height, clearance_y(frame, scale, level) + 4));
    const text = sayLevel(level);
    const beside: Label = { x: x + 7, y, text, ink: level < CLEAR_dB ? 'kick' : 'ink-2', halo: true };
    const label = keptOnPaper(beside, x, frame.width);
    if (level < CLEAR_dB) labels.unshift({ ...label, strong: level === lowest });
    else labels.push(label);
  }
  return { strokes: pens.strokes(), labels: placeLabels(labels) };
}

function mergedHits(hits: readonly HitClearance[], frame: StripFrame, scale: ClearanceScale): Drawing {
  const y = (level: number): number =>
    clearance_y(frame, scale, Math.max(scale.least_dB, Math.min(scale.most_dB, level)));
  const clear = new PathPen();
  const covered = new PathPen();
  const points = hits.flatMap(({ time_s, clearance_dB }): [number, number][] =>
    clearance_dB === null ? [] : [[x_of(frame.view, frame.width, time_s), clearance_dB]],
  );
  for (const { x, least, most } of mergeColumns(points, COLUMN)) {
    if (most >= CLEAR_dB) clear.upright(x, y(most), y(Math.max(CLEAR_dB, least)));
    if (least < CLEAR_dB) covered.upright(x, y(Math.min(CLEAR_dB, most)), y(least) + 1);
  }
  return {
    strokes: [
      { path: '', pen: clear.path, ink: 'kick', width: 1.6 },
      { path: '', pen: covered.path, ink: 'kick', width: 1.2, dash: [2, 2] },
    ],
    labels: [],
  };
}
