import type { HitClearance } from '../../core/measure/clearance.js';
import type { LowsTrack } from '../../core/measure/lows-track.js';
import { ContestedPens } from '../marks/contested-mark.js';
import type { Drawing, Label } from '../marks/drawing.js';
import { PathPen } from '../marks/path-pen.js';
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
/** The bass is looked up at every second pixel. */
const COLUMN_LEVEL_px = 2;

export function bandMarginsAt(lows: LowsTrack, hit: number): BandMargin[] {
  const strongest = strongestKick(lows, hit);
  return lows.bands_Hz.map((centre_Hz, band) => ({
    centre_Hz,
    margin_dB: marginOf(lows, hit, band),
    counts: counts(lows, hit, band, strongest),
  }));
}

function strongestKick({ hitKick_dBFS }: LowsTrack, hit: number): number {
  return (hitKick_dBFS[hit] ?? []).reduce((most, level) => Math.max(most, level), SILENT_dBFS);
}

function marginOf({ hitKick_dBFS, hitBass_dBFS }: LowsTrack, hit: number, band: number): number {
  const margin = (hitKick_dBFS[hit]?.[band] ?? SILENT_dBFS) - (hitBass_dBFS[hit]?.[band] ?? SILENT_dBFS);
  return Math.max(-24, Math.min(24, margin));
}

function counts({ hitKick_dBFS }: LowsTrack, hit: number, band: number, strongest_dBFS: number): boolean {
  const level = hitKick_dBFS[hit]?.[band] ?? SILENT_dBFS;
  return level > SILENT_dBFS && level > strongest_dBFS - KICK_WITHIN_dB;
}

const SILENT_dBFS = -120;

/** Level strokes for the bass at a level, 0 to 3. */
export function levelStrokes(level_dBFS: number, loudest_dBFS: number): number {
  const under = loudest_dBFS - level_dBFS;
  if (level_dBFS <= SILENT_dBFS) return 0;
  let strokes = 0;
  for (const within of STROKES_WITHIN_dB) if (under <= within) strokes += 1;
  return strokes;
}

/**
 * What the lows do: a line for each third octave; the bass as one to three level strokes by level, uprights for the first
 * 150 ms of a hit. Where the kick is clear the level strokes give way; where it is covered they cross it in a frame.
 */
export function lowsRow(lows: LowsTrack, hits: readonly HitClearance[], frame: StripFrame, bandsShown: 3 | 5): Drawing {
  const bands = shownBands(lows, bandsShown);
  const lane = frame.height / bands.length;
  const base_y = (place: number): number => frame.top + frame.height - place * lane;
  const ruled = new PathPen();
  bands.forEach((_, place) => ruled.level(0, frame.width, base_y(place)));
  const clear = new PathPen();
  const contested = new ContestedPens();
  const gaps = bands.map((): [number, number][] => []);
  const lastColumn = bands.map(() => Number.NEGATIVE_INFINITY);
  const width = HIT_LENGTH_s * px_per_s(frame);
  const from = firstAtOrAfter(hits, (hit) => hit.time_s, frame.view.from_s - HIT_LENGTH_s);
  for (let h = from; h < hits.length && hits[h]!.time_s < frame.view.to_s; h++) {
    const left = x_of(frame.view, frame.width, hits[h]!.time_s);
    const strongest = strongestKick(lows, h);
    bands.forEach((band, place) => {
      if (!counts(lows, h, band, strongest)) return;
      const top = base_y(place) - lane + 2;
      const bottom = base_y(place) - 1;
      if (width < FRAME_FROM_px) {
        const column = Math.floor(left / COLUMN_px);
        if (column === lastColumn[place]) return;
        lastColumn[place] = column;
        clear.upright(column * COLUMN_px, top, bottom);
      } else if (marginOf(lows, h, band) < 2) contested.add(left, top, width, lane - 3);
      else {
        gaps[place]!.push([left, left + width]);
        for (let x = left + 1; x < left + width; x += 3.5) clear.upright(x, top, bottom);
      }
    });
  }
  return {
    strokes: [
      { path: '', pen: ruled.path, ink: 'rule', width: 1 },
      { path: '', pen: bassLevels(lows, bands, frame, base_y, gaps).path, ink: 'bass', width: 1 },
      { path: '', pen: clear.path, ink: 'kick', width: 1.2 },
      ...contested.strokes(),
    ],
    labels: [],
  };
}

function shownBands({ bands_Hz }: LowsTrack, bandsShown: 3 | 5): number[] {
  const all = bands_Hz.map((_, b) => b);
  return bandsShown === 5 ? all : all.slice(1, 4);
}

function bassLevels(
  lows: LowsTrack,
  bands: readonly number[],
  frame: StripFrame,
  base_y: (place: number) => number,
  gaps: readonly (readonly (readonly [number, number])[])[],
): PathPen {
  const pen = new PathPen();
  const columns = Math.ceil(frame.width / COLUMN_LEVEL_px);
  const column_s = (COLUMN_LEVEL_px * lengthOf(frame.view)) / frame.width;
  const span_s = Math.max(lows.step_s, column_s);
  bands.forEach((band, place) => {
    const levels = lows.bass_dBFS[band]!;
    let begun = 0;
    let strokes = 0;
    for (let c = 0; c <= columns; c++) {
      const time_s = frame.view.from_s + (c + 0.5) * column_s;
      const now =
        c === columns ? 0 : levelStrokes(loudestWithin(levels, lows.step_s, time_s, span_s), lows.loudestBass_dBFS);
      if (now === strokes) continue;
      if (strokes > 0) {
        const right = Math.min(frame.width, COLUMN_LEVEL_px * c);
        for (const [a, b] of without(COLUMN_LEVEL_px * begun, right, gaps[place]!)) {
          for (let s = 0; s < strokes; s++) pen.level(a, b, base_y(place) - 2 - 2.5 * s);
        }
      }
      [begun, strokes] = [c, now];
    }
  });
  return pen;
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
