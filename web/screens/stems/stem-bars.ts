import type { LevelCourse } from '../../../core/measure/level-course.js';
import type { Role } from '../../../core/song/song.js';
import { NOTHING_DRAWN, type Drawing, type Stroke } from '../../marks/drawing.js';
import { pathData } from '../../marks/path-data.js';
import { BEATS_PER_BAR, barAt, barStart_s, type BeatGrid } from '../../strip/beat-grid.js';
import { inSight } from '../../strip/strip-frame.js';
import type { FoundSong } from './found-song.js';
import { x_of, type StripView } from '../../strip/strip-view.js';

const BARS = 4;
/** Seconds that are shown where there are no bars. */
const SECONDS = 8;
/** Under its own loudest by more than this a stem is silent. */
const SILENT_UNDER_dB = 42;
/** Room for a hit's attack in its stem. */
const ATTACK_s = 0.1;

/** The four bars that hold most hits and notes, the first of equals; 8 s where there are no bars. */
export function tellingBars({ grid, hits, staff, duration_s }: FoundSong): StripView {
  const times = [...hits.map(({ time_s }) => time_s), ...staff.notes.map(({ start_s }) => start_s)];
  const starts = grid === null ? everySeconds(duration_s) : everyFourBars(grid, duration_s);
  const length = Math.min(duration_s, grid === null ? SECONDS : BARS * BEATS_PER_BAR * grid.beat_s);
  let best = starts[0] ?? 0;
  let most = -1;
  for (const from_s of starts) {
    const held = times.filter((time_s) => time_s >= from_s - 0.02 && time_s < from_s + length).length;
    if (held > most) [best, most] = [from_s, held];
  }
  return { from_s: best, to_s: best + length };
}

function everySeconds(duration_s: number): number[] {
  return Array.from({ length: Math.max(1, Math.floor(duration_s / SECONDS)) }, (_, i) => SECONDS * i);
}

function everyFourBars(grid: BeatGrid, duration_s: number): number[] {
  const last = Math.max(1, barAt(grid, duration_s) - BARS);
  return Array.from({ length: Math.ceil(last / BARS) }, (_, i) => Math.max(0, barStart_s(grid, 1 + BARS * i)));
}

export interface StemBarsPlace {
  readonly view: StripView;
  readonly width: number;
  readonly height: number;
}

/**
 * What one stem plays in these bars, in the marks of the strip: kick hits as uprights as tall as they are loud in this stem,
 * bass notes level at their pitch where this stem sounds, everything else as a plain level line.
 */
export function stemBars(
  role: Role | null,
  course: LevelCourse | null,
  song: FoundSong,
  place: StemBarsPlace,
): Drawing {
  if (course === null) return NOTHING_DRAWN;
  const loudest = loudestOf(course);
  const ruled: Stroke[] = [{ path: barLines(song.grid, place), ink: 'rule', width: 1 }];
  if (role === 'kick') ruled.push(...uprights(course, loudest, song, place));
  else if (role === 'bass') ruled.push(...levels(course, loudest, song, place));
  else ruled.push(levelLine(course, loudest, place, role === 'rest'));
  return { strokes: ruled, labels: [] };
}

function barLines(grid: BeatGrid | null, { view, width, height }: StemBarsPlace): string {
  let lines = pathData.level(0, width, height - 1);
  if (grid === null) return lines;
  for (let bar = barAt(grid, view.from_s); barStart_s(grid, bar) <= view.to_s + 0.01; bar++) {
    lines += pathData.upright(Math.min(width - 0.5, x_of(view, width, barStart_s(grid, bar))), 0, height - 1);
  }
  return lines;
}

function uprights(course: LevelCourse, loudest: number, song: FoundSong, { view, width, height }: StemBarsPlace) {
  const base = height - 1;
  const path = inSight(song.hits, ({ time_s }) => time_s, view, 0)
    .map(({ time_s }) => {
      const share = shareOf(mostWithin(course, time_s - course.step_s, time_s + ATTACK_s), loudest);
      return share === 0 ? '' : pathData.upright(x_of(view, width, time_s), base, base - (base - 1) * share);
    })
    .join('');
  return [{ path, ink: 'kick' as const, width: 2 }];
}

function levels(course: LevelCourse, loudest: number, song: FoundSong, { view, width, height }: StemBarsPlace) {
  const [low, high] = song.staff.range_Hz;
  const y = (frequency_Hz: number): number =>
    height - 3 - Math.max(0, Math.min(1, Math.log(frequency_Hz / low) / Math.log(high / low))) * (height - 6);
  let sounds = '';
  let silent = '';
  for (const { start_s, end_s, frequency_Hz } of inSight(song.staff.notes, (note) => note.start_s, view, 4)) {
    if (end_s < view.from_s) continue;
    const [left, right] = [Math.max(0, x_of(view, width, start_s)), Math.min(width, x_of(view, width, end_s) - 1)];
    const at = y(frequency_Hz);
    const mark = pathData.level(left, right, at) + pathData.upright(right, at - 2, at + 2);
    if (shareOf(mostWithin(course, start_s, end_s), loudest) > 0) sounds += mark;
    else silent += mark;
  }
  return [
    { path: sounds, ink: 'bass' as const, width: 1.5 },
    { path: silent, ink: 'ink-3' as const, width: 1, dash: [1, 3] },
  ];
}

function levelLine(course: LevelCourse, loudest: number, place: StemBarsPlace, counts: boolean): Stroke {
  const { view, width, height } = place;
  const from = Math.max(0, Math.floor(view.from_s / course.step_s));
  const to = Math.min(course.level_dBFS.length - 1, Math.ceil(view.to_s / course.step_s));
  const points: [number, number][] = [];
  for (let n = from; n <= to; n++) {
    const x = Math.max(0, Math.min(width, x_of(view, width, (n + 0.5) * course.step_s)));
    points.push([x, height - 1 - (height - 3) * shareOf(course.level_dBFS[n]!, loudest)]);
  }
  return { path: pathData.through(points), ink: counts ? 'rest' : 'ink-3', width: 1.25 };
}

/** 0 where the stem is silent, 1 at its loudest. */
function shareOf(level_dBFS: number, loudest_dBFS: number): number {
  return Math.max(0, Math.min(1, 1 + (level_dBFS - loudest_dBFS) / SILENT_UNDER_dB));
}

export function loudestOf({ level_dBFS }: LevelCourse): number {
  return level_dBFS.reduce((most, level) => Math.max(most, level), -90);
}

export function mostWithin({ level_dBFS, step_s }: LevelCourse, from_s: number, to_s: number): number {
  let most = -90;
  const last = Math.min(level_dBFS.length - 1, Math.floor(to_s / step_s));
  for (let n = Math.max(0, Math.floor(from_s / step_s)); n <= last; n++) most = Math.max(most, level_dBFS[n]!);
  return most;
}
