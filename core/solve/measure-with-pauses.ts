import { measureAgreement } from '../measure/agreement.js';
import { measureCarry } from '../measure/carry.js';
import { measureCentre } from '../measure/centre.js';
import { measureClearance } from '../measure/clearance.js';
import { measureEvenness } from '../measure/evenness.js';
import { measureHeadroom } from '../measure/headroom.js';
import type { Measurements } from '../measure/measurements.js';
import type { Knowledge, SongSound } from '../measure/song-sound.js';
import { measureStemLows } from '../measure/stem-lows.js';
import { measureTrackAlignments } from '../measure/track-alignment.js';

/** `measureSong`, with a pause after each measure. */
export async function measureWithPauses(
  sound: SongSound,
  known: Knowledge,
  pause: () => Promise<unknown>,
): Promise<Measurements> {
  const then = async <T>(measured: T): Promise<T> => {
    await pause();
    return measured;
  };
  return {
    known,
    clearance: await then(measureClearance(sound, known)),
    agreement: await then(measureAgreement(sound, known)),
    trackAlignments: await then(measureTrackAlignments(sound, known)),
    centre: await then(measureCentre(sound, known)),
    evenness: await then(measureEvenness(sound, known)),
    carry: await then(measureCarry(sound, known)),
    headroom: await then(measureHeadroom(sound, known)),
    stemLows: await then(measureStemLows(sound)),
  };
}
