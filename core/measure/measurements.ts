import type { Unmeasurable } from '../units/reading.js';
import type { AgreementMeasure } from './agreement.js';
import type { CarryMeasure } from './carry.js';
import type { CentreMeasure } from './centre.js';
import type { ClearanceMeasure } from './clearance.js';
import type { EvennessMeasure } from './evenness.js';
import type { HeadroomMeasure } from './headroom.js';
import { measureParts, mergedParts, PART_NAMES } from './measure-parts.js';
import type { Knowledge, SongSound } from './song-sound.js';
import type { StemLows } from './stem-lows.js';
import type { TrackAlignment } from './track-alignment.js';

/** Everything measured of one state of the song (source or print), with the knowledge it was measured on. */
export interface Measurements {
  readonly known: Knowledge;
  readonly clearance: ClearanceMeasure | Unmeasurable;
  readonly agreement: AgreementMeasure | Unmeasurable;
  readonly trackAlignments: readonly TrackAlignment[];
  readonly centre: CentreMeasure | Unmeasurable;
  readonly evenness: EvennessMeasure | Unmeasurable;
  readonly carry: CarryMeasure | Unmeasurable;
  readonly headroom: HeadroomMeasure | Unmeasurable;
  readonly stemLows: readonly StemLows[];
}

/** All six measures and the facts of the single files: every part, one after the other. */
export function measureSong(sound: SongSound, known: Knowledge): Measurements {
  return mergedParts(known, [measureParts(sound, known, PART_NAMES)]);
}
