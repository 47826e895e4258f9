import type { Hit, Note } from '../song/song.js';

/**
 * A treatment as plain data: everything the engine needs and nothing else, so that it can be saved, compared and rendered
 * again to the same bits. Figures measured over the song (means, make-ups, references, cuts per hit) are stored here too; the
 * engine measures nothing.
 */

export type StageId =
  | 'align'
  | 'clean'
  | 'even'
  | 'centre'
  | 'split'
  | 'steady'
  | 'harmonics'
  | 'saturate'
  | 'widen'
  | 'onset'
  | 'join'
  | 'trim'
  | 'make-room'
  | 'shape';

export type SettingValue = number | string | boolean;

/** One stage at its place in a path. */
export interface StageInstance {
  readonly stage: StageId;
  readonly on: boolean;
  /** What the engineer (or the solver) sets: the declared settings, all of them, by key (`corner_Hz`). */
  readonly settings: Readonly<Record<string, SettingValue>>;
  /** What `core/job` measured over the song for this stage: `mean_FS`, `makeUp_dB`, `cutPerHit_dB`, ... */
  readonly figures: Readonly<Record<string, number | readonly number[]>>;
}

/** The path of one file before the files of a role are summed: align, then clean. */
export interface TrackPath {
  readonly file: string;
  readonly stages: readonly StageInstance[];
}

/** A role's whole path: its tracks one by one, their sum through `stages`; the lanes stand inside `split` .. `join`. */
export interface RolePath {
  readonly tracks: readonly TrackPath[];
  readonly stages: readonly StageInstance[];
  /** Lane paths of the split, low and high; empty where the role has no split. */
  readonly lanes: { readonly low: readonly StageInstance[]; readonly high: readonly StageInstance[] };
}

export interface Treatment {
  readonly format: 'keelson-treatment';
  readonly version: 1;
  readonly sampleRate_Hz: number;
  /** The note and hit lists are control signals: processing follows them. */
  readonly notes: readonly Note[];
  readonly hits: readonly Hit[];
  readonly kick: RolePath;
  readonly bass: RolePath;
  /** Rest is only cleaned, file by file. */
  readonly rest: RolePath;
}

export type TreatedRole = 'kick' | 'bass' | 'rest';

/**
 * The place of a stage, as text: `bass.centre`, `bass.low.saturate`, `kick.clean`, `bass["Bass Amp.wav"].align`.
 * A setting's address adds its key: `bass.low.saturate.drive_dB`.
 */
export interface StageAddress {
  readonly role: TreatedRole;
  readonly track: string | null;
  readonly lane: 'low' | 'high' | null;
  readonly stage: StageId;
}
