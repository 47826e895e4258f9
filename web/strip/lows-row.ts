import type { HitClearance } from '../../core/measure/clearance.js';
import type { LowsTrack } from '../../core/measure/lows-track.js';
import { contestedMark } from '../marks/contested-mark.js';
import type { Drawing, Label, Stroke } from '../marks/drawing.js';
import { pathData } from '../marks/path-data.js';
import { firstAtOrAfter, px_per_s, type StripFrame } from './strip-frame.js';
import { lengthOf, x_of } from './strip-view.js';

/** Kick over bass in one third octave at one hit. */
export interface BandMargin {
  readonly centre_Hz: number;
  readonly margin_dB: number;
  /** The kick is there: within 18 dB of its strongest of these bands. */
  readonly counts: boolean;
}

const KICK_WITHIN_dB = 18;
/** A bass band gets three level strokes within 6 dB of the bass's loudest, two within 12, one within 24. */
const STROKES_WITHIN_dB = [6, 12, 24];
const HIT_LENGTH_s = 0.15;
/** A hit's frame is drawn from this width; narrower ones are one upright. */
const FRAME_FROM_px = 6;
/** Further out hits merge: one upright a column. */
const COLUMN_px = 4;

export function bandMarginsAt(lows: LowsTrack, hit: number): BandMargin[] {
  const kick = lows.hitKick_dBFS[hit] ?? [];
  const bass = lows.hitBass_dBFS[hit] ?? [];
  const strongest = Math.max(...kick);
  return lows.bands_Hz.map((centre_Hz, b) => ({
    centre_Hz,
    margin_dB: Math.max(-24, Math.min(24, (kick[b] ?? SILENT_dBFS) - (bass[b] ?? SILENT_dBFS))),
    counts: kick[b] !== undefined && kick[b] > strongest - KICK_WITHIN_dB && kick[b] > SILENT_dBFS,
  }));
}

const SILENT_dBFS = -120;

/** Level strokes for the bass at a level, 0 to 3. */
export function levelStrokes(level_dBFS: number, loudest_dBFS: number): number {
  const under = loudest_dBFS - level_dBFS;
  if (level_dBFS <= SILENT_dBFS) return 0;
  return STROKES_WITHIN_dB.filter((within) => under <= within).length;
}

/** Runs of one number of strokes, at least two columns long where they are not at the edge. */
export function strokeRuns(counts: readonly number[]): { from: number; to: number; count: number }[] {
  const runs: { from: number; to: number; count: number }[] = [];
  counts.forEach((count, i) => {
    const last = runs[runs.length - 1];
    if (last !== undefined && last.count === count) last.to = i + 1;
    else runs.push({ from: i, to: i + 1, count });
  });
  return runs.filter(({ count }) => count > 0);
}

/**
 * What the lows do: a line for each third octave; the bass as one to three level strokes by level, uprights for the first
 * 150 ms of a hit. Where the kick is clear the level strokes give way; where it is covered they cross it in a frame.
 */
export function lowsRow(lows: LowsTrack, hits: readonly HitClearance[], frame: StripFrame, bandsShown: 3 | 5): Drawing {
  const bands = bandsShown === 5 ? lows.bands_Hz.map((_, b) => b) : lows.bands_Hz.map((_, b) => b).slice(1, 4);
  const lane = frame.height / bands.length;
  const strokes: Stroke[] = [];
  const base_y = (place: number): number => frame.top + frame.height - place * lane;
  strokes.push({
    path: bands.map((_, place) => pathData.level(0, frame.width, base_y(place))).join(''),
    ink: 'rule',
    width: 1,
  });
  const clear: string[] = [];
  const crossings: [string, string, string] = ['', '', ''];
  const gaps = bands.map((): [number, number][] => []);
  const lastColumn = bands.map(() => Number.NEGATIVE_INFINITY);
  const from = firstAtOrAfter(hits, (hit) => hit.time_s, frame.view.from_s - HIT_LENGTH_s);
  for (let h = from; h < hits.length && hits[h]!.time_s < frame.view.to_s; h++) {
    const left = x_of(frame.view, frame.width, hits[h]!.time_s);
    const width = HIT_LENGTH_s * px_per_s(frame);
    const margins = bandMarginsAt(lows, h);
    bands.forEach((band, place) => {
      const margin = margins[band]!;
      if (!margin.counts) return;
      const top = base_y(place) - lane + 2;
      if (width < FRAME_FROM_px) {
        const column = Math.floor(left / COLUMN_px);
        if (column === lastColumn[place]) return;
        lastColumn[place] = column;
        clear.push(pathData.upright(column * COLUMN_px, top, base_y(place) - 1));
        return;
      }
      if (margin.margin_dB >= 2) gaps[place]!.push([left, left + width]);
      if (margin.margin_dB >= 2) clear.push(uprights(left, width, top, base_y(place) - 1));
      else contestedMark(left, top, width, lane - 3).forEach(({ path }, part) => (crossings[part] += path));
    });
  }
  strokes.push({ path: bassLevels(lows, bands, frame, base_y, gaps), ink: 'bass', width: 1 });
  strokes.push(
    { path: clear.join(''), ink: 'kick', width: 1.2 },
    ...contestedMark(0, 0, 0, 0).map((stroke, part) => ({ ...stroke, path: crossings[part]! })),
  );
  return { strokes, labels: [] };
}

function uprights(left: number, width: number, top: number, bottom: number): string {
  let path = '';
  for (let x = left + 1; x < left + width; x += 3.5) path += pathData.upright(x, top, bottom);
  return path;
}

function bassLevels(
  lows: LowsTrack,
  bands: readonly number[],
  frame: StripFrame,
  base_y: (place: number) => number,
  gaps: readonly (readonly (readonly [number, number])[])[],
): string {
  const columns = Math.ceil(frame.width / 2);
  const step = Math.max(lows.step_s, (2 * lengthOf(frame.view)) / frame.width);
  let path = '';
  bands.forEach((band, place) => {
    const counts = Array.from({ length: columns }, (_, c) => {
      const time = frame.view.from_s + (c + 0.5) * ((2 * lengthOf(frame.view)) / frame.width);
      return levelStrokes(loudestWithin(lows.bass_dBFS[band]!, lows.step_s, time, step), lows.loudestBass_dBFS);
    });
    for (const { from, to, count } of strokeRuns(counts)) {
      for (const [left, right] of without(2 * from, Math.min(frame.width, 2 * to), gaps[place]!)) {
        for (let s = 0; s < count; s++) path += pathData.level(left, right, base_y(place) - 2 - 2.5 * s);
      }
    }
  });
  return path;
}

/** The loudest of the steps that one column covers. */
function loudestWithin(levels: ArrayLike<number>, step_s: number, time_s: number, span_s: number): number {
  const from = Math.max(0, Math.floor((time_s - span_s / 2) / step_s));
  const to = Math.min(levels.length - 1, Math.max(from, Math.ceil((time_s + span_s / 2) / step_s) - 1));
  let loudest = SILENT_dBFS;
  for (let i = from; i <= to; i++) loudest = Math.max(loudest, levels[i]!);
  return loudest;
}

/** A stretch less the gaps in it; gaps are in rising order. */
export function without(left: number, right: number, gaps: readonly (readonly [number, number])[]): [number, number][] {
  const kept: [number, number][] = [];
  let at = left;
  for (const [from, to] of gaps) {
    if (from >= right) break;
    if (to <= at) continue;
    if (from > at) kept.push([at, from]);
    at = Math.max(at, to);
  }
  if (at < right) kept.push([at, right]);
  return kept.filter(([from, to]) => to - from >= 1.5);
}

const NOMINAL_Hz = [40, 50, 63, 80, 100];

/** What a third octave is called: the nominal frequency next to its exact one (IEC 61260-1:2014). */
export function nominal_Hz(exact_Hz: number): number {
  return NOMINAL_Hz.find((nominal) => Math.abs(nominal / exact_Hz - 1) < 0.02) ?? Math.round(exact_Hz);
}

/** Names of the lines, for the right margin. */
export function lowsNames(lows: LowsTrack, frame: Pick<StripFrame, 'top' | 'height'>, bandsShown: 3 | 5): Label[] {
  const bands = bandsShown === 5 ? lows.bands_Hz : lows.bands_Hz.slice(1, 4);
  const lane = frame.height / bands.length;
  return bands.map((centre_Hz, place) => ({
    x: 0,
    y: frame.top + frame.height - (place + 0.5) * lane + 4,
    text: `${nominal_Hz(centre_Hz)}${place === bands.length - 1 ? '\u00a0Hz' : ''}`,
    ink: 'ink-2',
  }));
}
