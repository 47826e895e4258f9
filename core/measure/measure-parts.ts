import { measureAgreement } from './agreement.js';
import { measureCarry } from './carry.js';
import { measureCentre } from './centre.js';
import { measureClearance } from './clearance.js';
import { measureEvenness } from './evenness.js';
import { measureHeadroom } from './headroom.js';
import type { Measurements } from './measurements.js';
import type { Knowledge, SongSound } from './song-sound.js';
import { measureStemLows } from './stem-lows.js';
import { measureTrackAlignments } from './track-alignment.js';

/** A part of the measuring, named after what it gives. */
export type PartName = Exclude<keyof Measurements, 'known'>;

/** What some of the parts gave. */
export type MeasuredParts = Partial<Pick<Measurements, PartName>>;

/** One part: a pure function of the sound and, where `needsKnown`, of what is known of the song. */
export type MeasurePart<Name extends PartName> = {
  /** Rough share of the processor time of all parts, percent: for dividing them over threads, no promise. */
  readonly cost_percent: number;
  /** Of the sums of kick and bass, of all sums, or also of the single tracks, which only who opened the song holds. */
  readonly of: 'kickAndBass' | 'sums' | 'tracks';
} & (
  | { readonly needsKnown: true; readonly measure: (sound: SongSound, known: Knowledge) => Measurements[Name] }
  /** Such a part may run while hits and notes are still looked for. */
  | { readonly needsKnown: false; readonly measure: (sound: SongSound) => Measurements[Name] }
);

/** Every part of the measuring. They share nothing but the sound, so any of them may run anywhere, in any order. */
export const MEASURE_PARTS: { readonly [Name in PartName]: MeasurePart<Name> } = {
  clearance: {
    cost_percent: 17,
    of: 'sums',
    needsKnown: true,
    measure: (sound, known) => measureClearance(sound, known),
  },
  agreement: { cost_percent: 3, of: 'kickAndBass', needsKnown: true, measure: measureAgreement },
  trackAlignments: { cost_percent: 1, of: 'tracks', needsKnown: true, measure: measureTrackAlignments },
  centre: { cost_percent: 10, of: 'sums', needsKnown: false, measure: (sound) => measureCentre(sound) },
  evenness: { cost_percent: 9, of: 'kickAndBass', needsKnown: true, measure: measureEvenness },
  carry: { cost_percent: 26, of: 'sums', needsKnown: true, measure: measureCarry },
  headroom: { cost_percent: 30, of: 'sums', needsKnown: false, measure: measureHeadroom },
  stemLows: { cost_percent: 4, of: 'tracks', needsKnown: false, measure: measureStemLows },
};

/** The names of all parts, in the order of the table. */
export const PART_NAMES = Object.keys(MEASURE_PARTS) as readonly PartName[];

/**
 * Measures the named parts alone. `mergedParts` makes the whole from them, wherever each was measured.
 * @param known null where no named part needs it.
 * @throws RangeError where a named part needs what is known and it is null.
 */
export function measureParts(sound: SongSound, known: Knowledge | null, names: readonly PartName[]): MeasuredParts {
  return Object.fromEntries(names.map((name) => [name, measuredPart(sound, known, name)]));
}

/**
 * The whole of `measureSong` from its parts, equal to it whatever the order and place they were measured in.
 * @throws RangeError where a part is missing.
 */
export function mergedParts(known: Knowledge, parts: readonly MeasuredParts[]): Measurements {
  const gathered = Object.assign({}, ...parts) as MeasuredParts;
  const missing = PART_NAMES.filter((name) => gathered[name] === undefined);
  if (missing.length > 0) throw new RangeError(`not measured: ${missing.join(', ')}`);
  return { known, ...(gathered as Required<MeasuredParts>) };
}

function measuredPart(sound: SongSound, known: Knowledge | null, name: PartName): Measurements[PartName] {
  const part = MEASURE_PARTS[name];
  if (!part.needsKnown) return part.measure(sound);
  if (known === null) throw new RangeError(`${name} needs what is known of the song`);
  return part.measure(sound, known);
}
