import type { Faults } from '../core/findings/find-faults.js';
import type { LevelCourse } from '../core/measure/level-course.js';
import type { LowsTrack } from '../core/measure/lows-track.js';
import type { MeasuredParts, PartName } from '../core/measure/measure-parts.js';
import type { Knowledge } from '../core/measure/song-sound.js';
import type { Stem } from '../core/song/song.js';
import type { Treatment } from '../core/treatment/treatment.js';
import type { SoundingSong } from './sound-request.js';

/** The song as it was opened: its files read through, at first kick and bass alone. */
export interface OpenedSong {
  readonly name: string;
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  readonly stems: readonly Stem[];
  readonly remarks: readonly string[];
  /** How loud each file that was heard is through the song. */
  readonly levels: readonly LevelCourse[];
  /** What sounds of it, for the thread that plays; null while files are still read. */
  readonly sounding: SoundingSong | null;
}

/** What is told while a song is inspected, each as soon as it is there; together it is everything but the session. */
export type InspectTold =
  | {
      readonly what: 'opened';
      readonly song: OpenedSong;
      /** False where it is told anew as more was read, and all that was told of its kick and bass stands. */
      readonly begins: boolean;
    }
  | {
      readonly what: 'known';
      readonly known: Knowledge;
      readonly lows: LowsTrack;
      /** Every stage in its place, off. */
      readonly untreated: Treatment;
    }
  | {
      readonly what: 'measured';
      readonly parts: MeasuredParts;
      /** What the parts so far allow to be judged. */
      readonly faults: Faults;
      /** Parts that are still measured; none at the end. */
      readonly measuring: readonly PartName[];
    };
