import type { Faults } from '../core/findings/find-faults.js';
import type { PrintChoices, PrintedVersion } from '../core/job/print-song.js';
import type { SongProof } from '../core/job/prove-song.js';
import type { ReachedStage } from '../core/job/reached-stages.js';
import type { LevelMatch } from '../core/measure/level-match.js';
import type { LowsTrack } from '../core/measure/lows-track.js';
import type { PartName } from '../core/measure/measure-parts.js';
import type { Measurements } from '../core/measure/measurements.js';
import type { Session } from '../core/session/session-format.js';
import type { Role } from '../core/song/song.js';
import type { Solution } from '../core/solve/solve-song.js';
import type { Treatment } from '../core/treatment/treatment.js';
import type { Reading, Unmeasurable } from '../core/units/reading.js';
import type { HeardPart } from './heard-part.js';
import type { SongSource } from './song-source.js';
import type { InspectTold, OpenedSong } from './inspect-told.js';

export type { Trouble } from './questions.js';
export type { SongSource, SourceFile } from './song-source.js';

/** A sound file of the song before anything is measured. */
export interface ListedStem {
  readonly file: string;
  /** `mono, 48 kHz, 24-bit`; empty where it cannot be read. */
  readonly format: string;
  /** Why it cannot be read, and what to do; null where it can. */
  readonly trouble: string | null;
  readonly size_bytes?: number;
  /** Fingerprint of pieces spread over the file, where it could be taken. */
  readonly sketch?: string | null;
}

/** The song as it was found in its folder. */
export interface ListedSong {
  readonly name: string;
  /** Where its files are now: those of the demo song are made when it is opened. */
  readonly source: SongSource;
  readonly stems: readonly ListedStem[];
  /** The session that lies beside the stems; null where there is none. */
  readonly session: Session | null;
  /** Whether prints and session land beside the stems; else prints come as one zip. */
  readonly writable: boolean;
}

/** Everything known of the song, without its sound. Parts that are still measured stand as not measured. */
export interface InspectedSong extends OpenedSong {
  readonly measured: Measurements;
  readonly faults: Faults;
  readonly lows: LowsTrack;
  /** Every stage in its place, off. */
  readonly untreated: Treatment;
  /** Parts that are still measured. */
  readonly measuring: readonly PartName[];
}

/** A solution without its sound, and what would be found in the treated song. */
export interface SolvedSong {
  readonly solution: Pick<Solution, 'treatment' | 'stages' | 'after' | 'rows' | 'harm' | 'renders' | 'stopped'>;
  readonly faultsAfter: Faults;
  /** What makes the whole treated mix as loud as the source. */
  readonly match: LevelMatch | Unmeasurable;
}

/** A version that was printed and measured again from its files. */
export interface PrintedSong {
  readonly printed: PrintedVersion;
  readonly proof: SongProof;
  readonly reached: readonly ReachedStage[];
  readonly session: Session;
  /** All prints and the session as one file; null where they were written into the folder. */
  readonly zip: Uint8Array | null;
}

/** What makes a reference as loud as the song: BS.1770 over the whole of both. */
export interface ReferenceLoudness {
  readonly song_LUFS: Reading;
  readonly reference_LUFS: Reading;
}

/** What can be asked of the worker, and what it answers. */
export interface JobTasks {
  list: { readonly ask: { readonly source: SongSource }; readonly answer: ListedSong };
  /** Tells what is found as it is found, and answers the session with the roles as they are now. */
  inspect: {
    readonly ask: { readonly session: Session; readonly roles: readonly { file: string; role: Role }[] };
    readonly told: InspectTold;
    readonly answer: Session;
  };
  /** Null where nothing is agreed to. */
  solve: { readonly ask: { readonly session: Session }; readonly answer: SolvedSong | null };
  print: { readonly ask: { readonly session: Session; readonly choices: PrintChoices }; readonly answer: PrintedSong };
  /** The gain that makes a part as loud treated as it came: of this very treatment, whether it was solved or set by hand. */
  match: {
    readonly ask: { readonly treatment: Treatment; readonly part: HeardPart };
    readonly answer: LevelMatch | Unmeasurable;
  };
  /** Integrated loudness of the song as it came and of one reference, LUFS. */
  loudness: { readonly ask: { readonly reference: string }; readonly answer: ReferenceLoudness };
  /** Ends the solving that is under way; the best so far is its answer. */
  stop: { readonly ask: null; readonly answer: null };
  /** Writes the session beside the stems, where that may be. */
  save: { readonly ask: { readonly session: Session }; readonly answer: null };
}

export type JobTask = keyof JobTasks;
