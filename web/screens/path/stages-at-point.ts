import type { StageId, Treatment } from '../../../core/treatment/treatment.js';
import { stagesInOrder, type PathStage } from './path-stages.js';

/** A point of the song as the path sees it: its hit and its note by their place in the treatment's lists. */
export interface SongPoint {
  readonly hit: number | null;
  readonly note: number | null;
}

export const NO_POINT: SongPoint = { hit: null, note: null };

const ON_HIT_s = 0.005;

export function pointOf({ hits, notes }: Pick<Treatment, 'hits' | 'notes'>, time_s: number | null): SongPoint {
  if (time_s === null) return NO_POINT;
  const hit = hits.findIndex((one) => Math.abs(one.time_s - time_s) <= ON_HIT_s);
  const note = notes.findIndex(({ start_s, end_s }) => start_s <= time_s + 0.03 && time_s < end_s);
  return { hit: hit < 0 ? null : hit, note: note < 0 ? null : note };
}

const AT_HITS: ReadonlySet<StageId> = new Set<StageId>(['make-room', 'shape'] as StageId[]);
const AT_NOTES: ReadonlySet<StageId> = new Set<StageId>(['even', 'harmonics', 'onset', 'steady'] as StageId[]);

/** The stages that do something at a point: those that act on its hit, and those that act on its note. */
export function stagesAt(treatment: Treatment, point: SongPoint): ReadonlySet<string> {
  const acts = ({ address: { stage }, instance }: PathStage): boolean => {
    if (!instance.on) return false;
    if (point.hit !== null && AT_HITS.has(stage)) return cutOf(instance.figures['cutPerHit_dB'], point.hit) > 0;
    return point.note !== null && AT_NOTES.has(stage);
  };
  return new Set(
    stagesInOrder(treatment)
      .filter(acts)
      .map(({ key }) => key),
  );
}

/** Without a list of cuts every hit is treated alike. */
function cutOf(cuts: unknown, hit: number): number {
  return Array.isArray(cuts) ? Number(cuts[hit] ?? 0) : 1;
}
