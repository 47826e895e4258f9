import { power_to_dB } from '../units/decibels.js';
import { nearestNote } from '../units/notes.js';
import { figure, unmeasurable, type Reading, type Unmeasurable } from '../units/reading.js';
import { median, percentile, percentileOfSorted } from '../units/statistics.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Hit, Note } from '../song/song.js';
import { bootstrapInterval } from './bootstrap.js';
import { addOverlap, bandMargin_dB, clearanceOfHit, contestedBand_Hz, leastKickBand } from './clearance-of-hit.js';
import { UNOPPOSED_dB } from './clearance-of-hit.js';
import { HitSpectra, sumOfSpectra, type HitSpectrum } from './hit-spectra.js';
import type { Knowledge, SongSound } from './song-sound.js';
import { TWELFTHS_Hz } from './third-octaves.js';

/** Under this a hit is covered: from here on it is felt in 9 of 10 phase relations. */
export const COVERED_UNDER_dB = 2;
/** Hits this far under the median hit are ghost hits: listed, left out of every summary. */
export const GHOST_UNDER_dB = 12;

/** One hit against the bass under it. */
export interface HitClearance {
  readonly time_s: number;
  readonly level_dBFS: number;
  /** Null where the kick is silent at this hit. */
  readonly clearance_dB: number | null;
  readonly ghost: boolean;
  readonly covered: boolean;
  readonly unopposed: boolean;
  /** Index in the note list of the note that fills most of the hit's window; null where none sounds. */
  readonly note: number | null;
  /** Kick over bass, 30-150 Hz, the same window; null where one of them is silent. */
  readonly energyRatio_dB: number | null;
  /** The same clearance with bass + rest, and with the rest alone, as maskers; null where there is no rest. */
  readonly overBassAndRest_dB: number | null;
  readonly overRest_dB: number | null;
}

/** Margins of one band over the counted hits. */
export interface BandClearance {
  readonly centre_Hz: number;
  readonly margin_dB: number;
  readonly p10_dB: number;
  readonly p90_dB: number;
  /** The band's share of the kick's power in its bands, 0..1; 0 where it does not count. */
  readonly weight: number;
  /** Overlap as a share of the largest, 0..1; half or more is contested. */
  readonly overlap: number;
}

export interface NoteCover {
  readonly name: string;
  readonly midi: number;
  readonly hits: number;
  readonly covered: number;
}

/** Clearance over a set of hits, whatever the masker. */
export interface ClearanceSummary {
  readonly median_dB: Reading;
  readonly p10_dB: Reading;
  readonly share2dB: Reading;
}

export interface ClearanceMeasure extends ClearanceSummary {
  readonly kind: 'measured';
  readonly contested_Hz: Reading;
  /** Median of the hits' energy ratios, kick over bass, 30-150 Hz. */
  readonly energyRatio_dB: Reading;
  readonly hits: readonly HitClearance[];
  /** Hits that count (no ghosts, kick not silent), and how many of them are covered. */
  readonly countedHits: number;
  readonly coveredHits: number;
  readonly bands: readonly BandClearance[];
  /** Notes under the counted hits, most covered hits first. */
  readonly notes: readonly NoteCover[];
  readonly overBassAndRest: ClearanceSummary | null;
  readonly overRest: ClearanceSummary | null;
  /** Hits clear of the bass and not of bass + rest: those the rest covers. */
  readonly coveredByRest: number;
  /** The other way round, bass over kick per note: evidence, never a finding. */
  readonly bassOverKick: ClearanceSummary & { readonly notes: readonly (number | null)[] };
}

/** The kick's side of the measure, made once and used against any bass. */
export interface PreparedClearance {
  readonly spectra: HitSpectra;
  readonly hits: readonly Hit[];
  /** True where the hit is more than 12 dB under the median hit. */
  readonly ghosts: readonly boolean[];
  readonly kick: readonly HitSpectrum[];
  readonly kickBands: readonly Float64Array[];
}

export function prepareClearance(kick: StereoSignal, hits: readonly Hit[]): PreparedClearance {
  const spectra = new HitSpectra(kick.sampleRate_Hz);
  const middle = median(hits.map((hit) => hit.level_dBFS));
  const kickSpectra = hits.map((hit) => spectra.of(kick, hit.time_s));
  return {
    spectra,
    hits,
    ghosts: hits.map((hit) => hit.level_dBFS < middle - GHOST_UNDER_dB),
    kick: kickSpectra,
    kickBands: kickSpectra.map((spectrum) => spectra.bandPowers(spectrum)),
  };
}

/** Band powers of a sound at each hit, over `TWELFTHS_Hz`. */
export function hitBandPowers(prepared: PreparedClearance, signal: StereoSignal): Float64Array[] {
  return prepared.hits.map((hit) => prepared.spectra.bandPowers(prepared.spectra.of(signal, hit.time_s)));
}

/** Clearance of every hit over a masker's band powers; null where the kick is silent. The quick road for the solver. */
export function clearanceOfHits(prepared: PreparedClearance, maskerBands: readonly Float64Array[]): (number | null)[] {
  return prepared.kickBands.map((kick, i) => clearanceOfHit(kick, maskerBands[i]!));
}

/** Share of counted hits at 2 dB or more, from `clearanceOfHits`; null where none counts. */
export function shareAtLeast2dB(prepared: PreparedClearance, clearances: readonly (number | null)[]): number | null {
  const counted = countedValues(prepared.ghosts, clearances);
  if (counted.length === 0) return null;
  return counted.filter((value) => value >= COVERED_UNDER_dB).length / counted.length;
}

/**
 * Clearance of the kick over the bass (dB), per hit and summed up; see `clearanceOfHit` for the definition.
 *
 * @param prepared the kick's side, where it is at hand (the kick unchanged, hits the same).
 * @returns unmeasurable where there is no kick, no bass or no hit. Silent bass: every hit +24, median and P10 unmeasurable.
 */
export function measureClearance(
  sound: SongSound,
  known: Knowledge,
  prepared?: PreparedClearance,
): ClearanceMeasure | Unmeasurable {
  if (sound.kick === null) return unmeasurable('no kick among the stems');
  if (sound.bass === null) return unmeasurable('no bass among the stems');
  if (known.hits.length === 0) return unmeasurable('no kick hits found');
  const kickSide = prepared ?? prepareClearance(sound.kick, known.hits);
  const { ghosts, spectra } = kickSide;
  const at = (signal: StereoSignal): HitSpectrum[] => kickSide.hits.map((hit) => spectra.of(signal, hit.time_s));
  const bass = at(sound.bass);
  const bassBands = bass.map((spectrum) => spectra.bandPowers(spectrum));
  const clearances = clearanceOfHits(kickSide, bassBands);
  if (clearances.every((value) => value === null)) return unmeasurable('the kick is silent at every hit');
  const rest = sound.rest === null ? null : at(sound.rest);
  const overRest =
    rest &&
    clearanceOfHits(
      kickSide,
      rest.map((spectrum) => spectra.bandPowers(spectrum)),
    );
  const both = rest && rest.map((spectrum, i) => spectra.bandPowers(sumOfSpectra(spectrum, bass[i]!)));
  const overBoth = both && clearanceOfHits(kickSide, both);
  const hits = kickSide.hits.map((hit, i): HitClearance => {
    const clearance_dB = clearances[i]!;
    return {
      ...hit,
      clearance_dB,
      ghost: ghosts[i]!,
      covered: clearance_dB !== null && clearance_dB < COVERED_UNDER_dB,
      unopposed: clearance_dB !== null && clearance_dB >= UNOPPOSED_dB,
      note: noteUnder(hit.time_s, known.notes),
      energyRatio_dB: ratio_dB(spectra.power(kickSide.kick[i]!, 30, 150), spectra.power(bass[i]!, 30, 150)),
      overBassAndRest_dB: overBoth?.[i] ?? null,
      overRest_dB: overRest?.[i] ?? null,
    };
  });
  return summed(kickSide, hits, bassBands, known.notes, sound);
}

function summed(
  kickSide: PreparedClearance,
  hits: readonly HitClearance[],
  bassBands: readonly Float64Array[],
  notes: readonly Note[],
  sound: SongSound,
): ClearanceMeasure {
  const { ghosts } = kickSide;
  const counted = hits.filter((hit) => !hit.ghost && hit.clearance_dB !== null);
  const ratios = counted.flatMap((hit) => (hit.energyRatio_dB === null ? [] : [hit.energyRatio_dB]));
  const bands = bandsOver(kickSide, hits, bassBands);
  const contested = contestedBand_Hz(Float64Array.from(bands, (band) => band.overlap));
  const noRest = sound.rest === null;
  return {
    kind: 'measured',
    ...summary(
      ghosts,
      hits.map((hit) => hit.clearance_dB),
      'no bass under any hit',
    ),
    contested_Hz: contested === null ? unmeasurable('no bass under any hit') : figure(contested),
    energyRatio_dB: ratios.length === 0 ? unmeasurable('no bass under any hit') : figure(median(ratios)),
    hits,
    countedHits: counted.length,
    coveredHits: counted.filter((hit) => hit.covered).length,
    bands,
    notes: notesUnder(counted, notes),
    overBassAndRest: noRest
      ? null
      : summary(
          ghosts,
          hits.map((hit) => hit.overBassAndRest_dB),
          'nothing under any hit',
        ),
    overRest: noRest
      ? null
      : summary(
          ghosts,
          hits.map((hit) => hit.overRest_dB),
          'no rest under any hit',
        ),
    coveredByRest: counted.filter(
      (hit) => !hit.covered && hit.overBassAndRest_dB !== null && hit.overBassAndRest_dB < COVERED_UNDER_dB,
    ).length,
    bassOverKick: bassOverKick(kickSide.spectra, sound, notes),
  };
}

function summary(
  ghosts: readonly boolean[],
  clearances: readonly (number | null)[],
  unopposedReason: string,
): ClearanceSummary {
  const counted = countedValues(ghosts, clearances);
  if (counted.length === 0) {
    const none = unmeasurable('no hit counts');
    return { median_dB: none, p10_dB: none, share2dB: none };
  }
  const share = (values: readonly number[]): number =>
    values.filter((value) => value >= COVERED_UNDER_dB).length / values.length;
  const at = (p: number): Reading => {
    const opposed = counted.filter((value) => value < UNOPPOSED_dB);
    if (opposed.length === 0) return unmeasurable(unopposedReason);
    const interval = bootstrapInterval(opposed.length, (drawn) => percentile(pick(opposed, drawn), p));
    return figure(percentile(opposed, p), interval);
  };
  return {
    median_dB: at(50),
    p10_dB: at(10),
    share2dB: figure(
      share(counted),
      bootstrapInterval(counted.length, (drawn) => share(pick(counted, drawn))),
    ),
  };
}

function pick(values: readonly number[], drawn: Int32Array): number[] {
  return Array.from(drawn, (i) => values[i]!);
}

function countedValues(ghosts: readonly boolean[], clearances: readonly (number | null)[]): number[] {
  return clearances.filter((value, i): value is number => value !== null && !ghosts[i]);
}

/** Per band: median, P10 and P90 of the margin, the kick's mean weight, and overlap over the covered hits (all, where none is). */
function bandsOver(
  { kickBands }: PreparedClearance,
  hits: readonly HitClearance[],
  bassBands: readonly Float64Array[],
): BandClearance[] {
  const counted = hits.flatMap((hit, i) => (hit.ghost || hit.clearance_dB === null ? [] : [i]));
  const covered = counted.filter((i) => hits[i]!.covered);
  const shown = covered.length > 0 ? covered : counted;
  const overlap = new Float64Array(TWELFTHS_Hz.length);
  const weight = new Float64Array(TWELFTHS_Hz.length);
  for (const i of shown) {
    addOverlap(overlap, kickBands[i]!, bassBands[i]!);
    addWeights(weight, kickBands[i]!);
  }
  const largest = overlap.reduce((best, value) => Math.max(best, value), 0);
  return TWELFTHS_Hz.map((centre_Hz, b) => {
    const margins = shown.map((i) => bandMargin_dB(kickBands[i]![b]!, bassBands[i]![b]!));
    const ascending = Float64Array.from(margins).sort();
    const at = (p: number): number => (ascending.length === 0 ? 0 : percentileOfSorted(ascending, p));
    return {
      centre_Hz,
      margin_dB: at(50),
      p10_dB: at(10),
      p90_dB: at(90),
      weight: shown.length > 0 ? weight[b]! / shown.length : 0,
      overlap: largest > 0 ? overlap[b]! / largest : 0,
    };
  });
}

function addWeights(weight: Float64Array, kick: Float64Array): void {
  const least = leastKickBand(kick);
  const inBands = kick.map((power) => (power >= least ? power : 0));
  const total = inBands.reduce((sum, power) => sum + power, 0);
  if (total > 0) inBands.forEach((power, b) => (weight[b]! += power / total));
}

/** The note that sounds longest in the flat part of a hit's window. */
function noteUnder(time_s: number, notes: readonly Note[]): number | null {
  let best: number | null = null;
  let longest = 0;
  notes.forEach((note, i) => {
    const overlap_s = Math.min(note.end_s, time_s + 0.105) - Math.max(note.start_s, time_s);
    if (overlap_s > longest) {
      longest = overlap_s;
      best = i;
    }
  });
  return best;
}

function notesUnder(counted: readonly HitClearance[], notes: readonly Note[]): NoteCover[] {
  const byPitch = new Map<number, { name: string; midi: number; hits: number; covered: number }>();
  for (const hit of counted) {
    if (hit.note === null) continue;
    const { midi, name } = nearestNote(notes[hit.note]!.frequency_Hz);
    const cover = byPitch.get(midi) ?? { name, midi, hits: 0, covered: 0 };
    cover.hits += 1;
    if (hit.covered) cover.covered += 1;
    byPitch.set(midi, cover);
  }
  return [...byPitch.values()].sort((a, b) => b.covered - a.covered || b.hits - a.hits || a.midi - b.midi);
}

function bassOverKick(
  spectra: HitSpectra,
  sound: SongSound,
  notes: readonly Note[],
): ClearanceSummary & { notes: (number | null)[] } {
  const perNote = notes.map((note) => {
    const length_s = Math.min(0.6, note.end_s - note.start_s);
    if (length_s < 0.06) return null;
    const powersOf = (signal: StereoSignal): Float64Array =>
      spectra.bandPowers(spectra.of(signal, note.start_s, length_s));
    return clearanceOfHit(powersOf(sound.bass!), powersOf(sound.kick!));
  });
  const none = notes.map(() => false);
  return { ...summary(none, perNote, 'no kick under any note'), notes: perNote };
}

function ratio_dB(over: number, under: number): number | null {
  return over > 0 && under > 0 ? power_to_dB(over / under) : null;
}
