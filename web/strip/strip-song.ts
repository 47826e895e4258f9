import type { ClearanceMeasure, HitClearance } from '../../core/measure/clearance.js';
import type { LowsTrack } from '../../core/measure/lows-track.js';
import type { Measurements } from '../../core/measure/measurements.js';
import { isMeasured } from '../../core/units/reading.js';
import { beatGrid, type BeatGrid } from './beat-grid.js';
import { clearanceScale, type ClearanceScale } from './clearance-row.js';
import { staffOf, type Staff } from './notes-row.js';

/** What the strip draws, made once when a song has been measured. */
export interface StripSong {
  readonly duration_s: number;
  readonly grid: BeatGrid | null;
  readonly beat_s: number;
  readonly hits: readonly HitClearance[];
  /** The treated song's hits; null where there is none to show. */
  readonly treated: readonly HitClearance[] | null;
  readonly scale: ClearanceScale;
  readonly staff: Staff;
  readonly lows: LowsTrack | null;
  /** Why a row is empty, where it is. */
  readonly noClearance: string | null;
  readonly noNotes: string | null;
}

export function stripSong(
  measured: Measurements,
  duration_s: number,
  lows: LowsTrack | null,
  treated: ClearanceMeasure | null = null,
): StripSong {
  const { known, clearance, evenness } = measured;
  const grid = beatGrid(known);
  const hits = isMeasured(clearance) ? clearance.hits : [];
  return {
    duration_s,
    grid,
    beat_s: grid?.beat_s ?? 0.5,
    hits,
    treated: treated?.hits ?? null,
    scale: clearanceScale(treated === null ? hits : [...hits, ...treated.hits]),
    staff: staffOf(known.notes, isMeasured(evenness) ? evenness.notes : []),
    lows,
    noClearance: isMeasured(clearance) ? null : clearance.reason,
    noNotes: known.notes.length > 0 ? null : 'no bass notes found',
  };
}
