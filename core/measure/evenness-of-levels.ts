import { log2 } from '../units/exact-math.js';
import { nearestNote } from '../units/notes.js';
import { median, percentile, theilSenLine } from '../units/statistics.js';

/**
 * Evenness of given note levels (dB) and pitches (Hz), no sound needed, so that a gain per note can be judged in closed form.
 *
 * Deviation d = level - line, the line by Theil-Sen through the per-pitch medians against log2 f, its slope held within
 * 6 dB per octave; with fewer than 5 pitches or less than 7 semitones of range, the plain median instead. A note's pitch is
 * its nearest equal-tempered one. Measured for this project (docs/decisions.md): true offsets come back within 0.4 dB, where
 * the median of neighbouring notes errs by 7.7 dB.
 */
export interface Evenness {
  readonly spread_dB: number;
  readonly shareBeyond4dB: number;
  /** Level less line, one per note. */
  readonly deviations_dB: readonly number[];
  readonly scatter_dB: number;
  readonly lineAt55Hz_dBFS: number;
  readonly lineSlope_dB_per_oct: number;
  /** By rising pitch. */
  readonly pitches: readonly PitchEvenness[];
}

export interface PitchEvenness {
  readonly midi: number;
  readonly name: string;
  readonly frequency_Hz: number;
  /** Which of the given notes have this pitch. */
  readonly members: readonly number[];
  readonly median_dB: number;
  /** Share of its notes that lie at least 2 dB to the median's side. */
  readonly sideShare: number;
  /** How far the median may lie off: max(3 dB, 2.5 s / sqrt(n)). */
  readonly tolerance_dB: number;
  /** Whether it has notes enough: 3, or 4 where the scatter passes 2 dB. */
  readonly judged: boolean;
  /** Raised or sunk every time, by the rule on resonant and dead pitches; null where it is neither. */
  readonly fault: 'resonant' | 'dead' | null;
}

/** The line is against log2(f / 55 Hz). */
const REFERENCE_Hz = 55;
const SLOPE_LIMIT_dB_per_oct = 6;

/** Both lists are of equal length, 1 or more; levels finite, frequencies above 0. */
export function evennessOf(levels_dB: readonly number[], frequencies_Hz: readonly number[]): Evenness {
  const groups = groupedByPitch(frequencies_Hz);
  const line = lineThrough(groups, levels_dB, frequencies_Hz);
  const deviations = levels_dB.map((level, i) => level - line.intercept - line.slope * octaves(frequencies_Hz[i]!));
  const scatter = scatterWithin(groups, deviations);
  return {
    spread_dB: percentile(levels_dB, 90) - percentile(levels_dB, 10),
    shareBeyond4dB: deviations.filter((d) => Math.abs(d) > 4).length / deviations.length,
    deviations_dB: deviations,
    scatter_dB: scatter,
    lineAt55Hz_dBFS: line.intercept,
    lineSlope_dB_per_oct: line.slope,
    pitches: groups.map((group) => judgedPitch(group, deviations, frequencies_Hz, scatter)),
  };
}

interface PitchGroup {
  readonly midi: number;
  readonly members: number[];
}

function octaves(frequency_Hz: number): number {
  return log2(frequency_Hz / REFERENCE_Hz);
}

function groupedByPitch(frequencies_Hz: readonly number[]): PitchGroup[] {
  const groups = new Map<number, PitchGroup>();
  frequencies_Hz.forEach((frequency, i) => {
    const { midi } = nearestNote(frequency);
    const group = groups.get(midi) ?? { midi, members: [] };
    group.members.push(i);
    groups.set(midi, group);
  });
  return [...groups.values()].sort((a, b) => a.midi - b.midi);
}

function lineThrough(
  groups: readonly PitchGroup[],
  levels_dB: readonly number[],
  frequencies_Hz: readonly number[],
): { slope: number; intercept: number } {
  const range_semitones = groups[groups.length - 1]!.midi - groups[0]!.midi;
  if (groups.length < 5 || range_semitones < 7) return { slope: 0, intercept: median(levels_dB) };
  const at = groups.map(({ members }) => octaves(median(members.map((i) => frequencies_Hz[i]!))));
  const medians = groups.map(({ members }) => median(members.map((i) => levels_dB[i]!)));
  return theilSenLine(at, medians, SLOPE_LIMIT_dB_per_oct);
}

/** 1.4826 times the median absolute deviation within pitches, of all notes whose pitch is played more than once. */
function scatterWithin(groups: readonly PitchGroup[], deviations: readonly number[]): number {
  const distances = groups
    .filter(({ members }) => members.length > 1)
    .flatMap(({ members }) => {
      const middle = median(members.map((i) => deviations[i]!));
      return members.map((i) => Math.abs(deviations[i]! - middle));
    });
  return distances.length > 0 ? 1.4826 * median(distances) : 0;
}

function judgedPitch(
  { midi, members }: PitchGroup,
  deviations: readonly number[],
  frequencies_Hz: readonly number[],
  scatter: number,
): PitchEvenness {
  const own = members.map((i) => deviations[i]!);
  const middle = median(own);
  const side = middle < 0 ? -1 : 1;
  const sideShare = own.filter((d) => side * d >= 2).length / own.length;
  const tolerance = Math.max(3, (2.5 * scatter) / Math.sqrt(own.length));
  const judged = own.length >= (scatter > 2 ? 4 : 3);
  const fires = judged && Math.abs(middle) >= tolerance && sideShare >= 0.75;
  const frequency_Hz = median(members.map((i) => frequencies_Hz[i]!));
  return {
    midi,
    name: nearestNote(frequency_Hz).name,
    frequency_Hz,
    members,
    median_dB: middle,
    sideShare,
    tolerance_dB: tolerance,
    judged,
    fault: !fires ? null : side > 0 ? 'resonant' : 'dead',
  };
}
