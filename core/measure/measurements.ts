import type { Unmeasurable } from '../units/reading.js';
import { measureAgreement, type AgreementMeasure } from './agreement.js';
import { measureCarry, type CarryMeasure } from './carry.js';
import { measureCentre, type CentreMeasure } from './centre.js';
import { measureClearance, type ClearanceMeasure } from './clearance.js';
import { measureEvenness, type EvennessMeasure } from './evenness.js';
import { measureHeadroom, type HeadroomMeasure } from './headroom.js';
import type { Knowledge, SongSound } from './song-sound.js';
import { measureStemLows, type StemLows } from './stem-lows.js';
import { measureTrackAlignments, type TrackAlignment } from './track-alignment.js';

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

/** All six measures and the facts of the single files. */
export function measureSong(sound: SongSound, known: Knowledge): Measurements {
  return {
    known,
    clearance: measureClearance(sound, known),
    agreement: measureAgreement(sound, known),
    trackAlignments: measureTrackAlignments(sound, known),
    centre: measureCentre(sound, known),
    evenness: measureEvenness(sound, known),
    carry: measureCarry(sound, known),
    headroom: measureHeadroom(sound, known),
    stemLows: measureStemLows(sound),
  };
}
