import type { Finding } from '../findings/finding.js';
import type { Faults } from '../findings/find-faults.js';
import type { Measurements } from '../measure/measurements.js';
import type { Note, Stem } from '../song/song.js';
import { nearestNote } from '../units/notes.js';
import type { Reading } from '../units/reading.js';
import { readStatistic, STATISTICS } from '../wishes/statistics.js';

/** What is inspected, as the JSON builder needs it. */
export interface InspectionFacts {
  readonly name: string;
  readonly sampleRate_Hz: number;
  readonly duration_s: number;
  readonly stems: readonly Stem[];
  readonly measured: Measurements;
  readonly faults: Faults;
  /** What else the engineer should know: conversions, what was set aside, how the stems sum to a rough mix. */
  readonly remarks: readonly string[];
}

/** `{ value, low, high }`, or `{ value: null, reason }`. */
export type ReadingJson =
  | { readonly value: number; readonly low?: number; readonly high?: number }
  | { readonly value: null; readonly reason: string };

export function readingJson(reading: Reading): ReadingJson {
  if (reading.kind === 'unmeasurable') return { value: null, reason: reading.reason };
  const { value, low, high } = reading;
  return low === undefined || high === undefined ? { value } : { value, low, high };
}

/** A plain number, or `{ value: null, reason }`. */
function plain(reading: Reading): number | ReadingJson {
  return reading.kind === 'figure' ? reading.value : readingJson(reading);
}

/**
 * The one object that `inspect --json` prints; its keys, names, units and meaning are the published contract
 * (docs/formats/inspect.schema.json).
 */
export function inspectionJson(facts: InspectionFacts): Record<string, unknown> {
  const { measured, faults } = facts;
  const { known } = measured;
  return {
    song: {
      name: facts.name,
      sampleRate_Hz: facts.sampleRate_Hz,
      duration_s: facts.duration_s,
      tempo_bpm: plain(known.tempo_bpm),
      stems: facts.stems.map(stemJson),
      remarks: facts.remarks,
    },
    kick: {
      hits: known.hits.map((hit, i) => ({ ...hit, clearance_dB: clearanceOf(measured, i) })),
      fundamental_Hz: plain(known.fundamental_Hz),
      decay_ms: plain(known.decay_ms),
    },
    bass: { notes: known.notes.map(noteJson) },
    measures: measuresJson(measured),
    findings: faults.findings.map(findingJson),
    lookedForAndNotThere: faults.lookedForAndNotThere,
    notJudged: faults.unjudged,
  };
}

function clearanceOf(measured: Measurements, hit: number): number | ReadingJson {
  const { clearance } = measured;
  if (clearance.kind === 'unmeasurable') return { value: null, reason: clearance.reason };
  return clearance.hits[hit]?.clearance_dB ?? { value: null, reason: 'the kick is silent here' };
}

function stemJson(stem: Stem): Record<string, unknown> {
  const { file, role, because, confidence, channels, bitDepth, sampleRate_Hz, duration_s, start_samples, faults } =
    stem;
  return { file, role, because, confidence, channels, bitDepth, sampleRate_Hz, duration_s, start_samples, faults };
}

function noteJson(note: Note): Record<string, unknown> {
  const { start_s, end_s, frequency_Hz, level_dBFS, harmonics_dB, fundamentalMissing, curve_Hz, curveStep_s } = note;
  const { midi, name, cents } = nearestNote(frequency_Hz);
  return {
    start_s,
    end_s,
    frequency_Hz,
    midi,
    name,
    cents,
    level_dBFS,
    harmonics_dB,
    fundamentalMissing,
    ...(curve_Hz === null ? {} : { curve_Hz, curveStep_s }),
  };
}

function measuresJson(measured: Measurements): Record<string, Record<string, ReadingJson>> {
  const measures: Record<string, Record<string, ReadingJson>> = {};
  for (const statistic of STATISTICS) {
    const group = (measures[statistic.measure] ??= {});
    group[statistic.address.slice(statistic.measure.length + 1)] = readingJson(readStatistic(measured, statistic));
  }
  const { clearance } = measured;
  measures['clearance']!['contested_Hz'] =
    clearance.kind === 'unmeasurable' ? { value: null, reason: clearance.reason } : readingJson(clearance.contested_Hz);
  return measures;
}

function findingJson(finding: Finding): Record<string, unknown> {
  return { ...finding };
}
