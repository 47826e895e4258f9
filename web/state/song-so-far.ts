import type { Faults } from '../../core/findings/find-faults.js';
import type { Finding } from '../../core/findings/finding.js';
import type { MeasuredParts, PartName } from '../../core/measure/measure-parts.js';
import { unmeasurable } from '../../core/units/reading.js';
import type { InspectTold, OpenedSong } from '../../protocol/inspect-told.js';
import type { InspectedSong } from '../../protocol/job-messages.js';

type KnownOfSong = Omit<Extract<InspectTold, { what: 'known' }>, 'what'>;

/** What is known of a song while it is inspected. */
export interface SongSoFar {
  readonly opened: OpenedSong;
  /** Hits, notes and what is drawn of them; null while they are looked for. */
  readonly known: KnownOfSong | null;
  readonly parts: MeasuredParts;
  readonly faults: Faults;
  /** Parts that are still measured; null before the first. */
  readonly measuring: readonly PartName[] | null;
}

const NOTHING: Faults = { findings: [], lookedForAndNotThere: [], unjudged: [] };
const NOT_YET = unmeasurable('it is still being measured');

/** The song with what was told of it now. Findings keep their places until all is measured; then they stand by what they cost. */
export function withTold(before: SongSoFar | null, told: InspectTold): SongSoFar | null {
  if (told.what === 'opened' && told.begins)
    return { opened: told.song, known: null, parts: {}, faults: NOTHING, measuring: null };
  if (before === null) return null;
  if (told.what === 'opened') return { ...before, opened: told.song };
  if (told.what === 'known') {
    const { known, lows, untreated } = told;
    return { ...before, known: { known, lows, untreated } };
  }
  const { parts, faults, measuring } = told;
  const findings = measuring.length === 0 ? faults.findings : inTheirPlaces(before.faults.findings, faults.findings);
  return { ...before, parts: { ...before.parts, ...parts }, faults: { ...faults, findings }, measuring };
}

/** The song as the sheets show it, as soon as its hits and notes are known. */
export function songOf({ opened, known, parts, faults, measuring }: SongSoFar): InspectedSong | null {
  if (known === null || measuring === null) return null;
  const { lows, untreated } = known;
  return {
    ...opened,
    measured: {
      ...{
        clearance: NOT_YET,
        agreement: NOT_YET,
        centre: NOT_YET,
        evenness: NOT_YET,
        carry: NOT_YET,
        headroom: NOT_YET,
      },
      ...{ trackAlignments: [], stemLows: [] },
      ...parts,
      known: known.known,
    },
    ...{ faults, lows, untreated, measuring },
  };
}

/** Where the chosen finding stands in another list of findings; the first where it is gone. */
export function placeOfChosen(before: readonly Finding[], chosen: number, after: readonly Finding[]): number {
  const finding = before[chosen];
  return finding === undefined
    ? 0
    : Math.max(
        0,
        after.findIndex((one) => isSame(one, finding)),
      );
}

function inTheirPlaces(before: readonly Finding[], now: readonly Finding[]): Finding[] {
  return [...before, ...now.filter((finding) => !before.some((one) => isSame(one, finding)))];
}

function isSame(a: Finding, b: Finding): boolean {
  return a.id === b.id && a.sentence === b.sentence;
}
