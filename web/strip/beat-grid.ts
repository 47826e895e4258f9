import type { Knowledge } from '../../core/measure/song-sound.js';
import { valueOf } from '../../core/units/reading.js';

/** Bars and beats of a song at one tempo, four beats to the bar. */
export interface BeatGrid {
  readonly beat_s: number;
  /** Where bar 1 begins. */
  readonly bar1_s: number;
}

export const BEATS_PER_BAR = 4;

/**
 * The grid on which hits and note starts lie best. Its phase is their mean direction on the circle of one sixteenth; bar 1 is
 * counted from the sixteenth of the bar on which most of them fall together, a hit counting twice (the first of equals). Null
 * where no tempo was found.
 */
export function beatGrid({ tempo_bpm, hits, notes }: Knowledge): BeatGrid | null {
  const tempo = valueOf(tempo_bpm);
  if (tempo === null || tempo <= 0) return null;
  const beat_s = 60 / tempo;
  const starts = [
    ...hits.map(({ time_s }) => ({ time_s, weight: 2 })),
    ...notes.map(({ start_s }) => ({ time_s: start_s, weight: 1 })),
  ].sort((a, b) => a.time_s - b.time_s);
  if (starts.length === 0) return { beat_s, bar1_s: 0 };
  const sixteenth_s = beat_s / 4;
  const phase_s = meanPhase_s(starts, sixteenth_s);
  const on = Array.from({ length: SIXTEENTHS }, () => 0);
  for (const { time_s, weight } of starts) on[mod(Math.round((time_s - phase_s) / sixteenth_s), SIXTEENTHS)]! += weight;
  const down_s = phase_s + firstOfMost(on, Math.round((starts[0]!.time_s - phase_s) / sixteenth_s)) * sixteenth_s;
  const bar_s = BEATS_PER_BAR * beat_s;
  return { beat_s, bar1_s: down_s + Math.floor((starts[0]!.time_s - down_s) / bar_s + 0.05) * bar_s };
}

const SIXTEENTHS = 4 * BEATS_PER_BAR;

/** The fullest place of the bar; of equals the first that is come by from `from` on. */
function firstOfMost(on: readonly number[], from: number): number {
  const order = on.map((_, i) => mod(from + i, on.length));
  return order.reduce((best, place) => (on[place]! > on[best]! ? place : best));
}

function meanPhase_s(
  starts: readonly { readonly time_s: number; readonly weight: number }[],
  period_s: number,
): number {
  let re = 0;
  let im = 0;
  for (const { time_s, weight } of starts) {
    re += weight * Math.cos((2 * Math.PI * time_s) / period_s);
    im += weight * Math.sin((2 * Math.PI * time_s) / period_s);
  }
  return (Math.atan2(im, re) / (2 * Math.PI)) * period_s;
}

function mod(value: number, by: number): number {
  return value - by * Math.floor(value / by);
}

/** The bar that a time lies in, counted from 1; times before bar 1 count down through 0. */
export function barAt(grid: BeatGrid, time_s: number): number {
  return Math.floor((time_s - grid.bar1_s) / (BEATS_PER_BAR * grid.beat_s) + 1e-6) + 1;
}

export function barStart_s(grid: BeatGrid, bar: number): number {
  return grid.bar1_s + (bar - 1) * BEATS_PER_BAR * grid.beat_s;
}

/** Bar, beat and hundredths of a beat: `38.3.00`. */
export function positionText(grid: BeatGrid, time_s: number): string {
  const hundredths = Math.round((100 * (time_s - grid.bar1_s)) / grid.beat_s);
  const beats = Math.floor(hundredths / 100);
  const beat = mod(beats, BEATS_PER_BAR) + 1;
  return `${Math.floor(beats / BEATS_PER_BAR) + 1}.${beat}.${String(mod(hundredths, 100)).padStart(2, '0')}`;
}

/** Minutes and seconds: `1:23.5`. */
export function clockText(time_s: number): string {
  const tenths = Math.round(Math.max(0, time_s) * 10);
  const seconds = ((tenths % 600) / 10).toFixed(1).padStart(4, '0');
  return `${Math.floor(tenths / 600)}:${seconds}`;
}

/** How a stretch of the song is called: `bars 33 to 40`, `bar 5`, or by the clock where there are no bars. */
export function stretchText(grid: BeatGrid | null, from_s: number, to_s: number): string {
  if (grid === null) return `${clockText(from_s)} to ${clockText(to_s)}`;
  const first = Math.max(1, barAt(grid, from_s + 0.1 * grid.beat_s));
  const last = Math.max(first, barAt(grid, to_s - 0.05 * grid.beat_s));
  return first === last ? `bar ${first}` : `bars ${first} to ${last}`;
}
