import type { Role } from '../core/song/song.js';
import type { ChainInput } from '../core/treatment/treatment-chain.js';
import type { TreatedRole } from '../core/treatment/treatment.js';
import type { SongSource } from './song-source.js';

/** Stands for the sum of the rest where its files are not treated one by one. */
export const REST_BED = 'rest';

/** A file as it stands in the song. */
export interface SoundingFile {
  readonly file: string;
  /** Where it begins, in samples of the song's rate. */
  readonly start: number;
}

/** A file of the bed, put in or taken out again: what would count twice is found only after it was heard. */
export interface BedFile extends SoundingFile {
  readonly sign: 1 | -1;
}

/** A file beside the song, with its own length at the song's rate. */
export interface BesideFile {
  readonly file: string;
  readonly role: 'reference' | 'mix';
  readonly frameCount: number;
}

/** What of the song sounds: enough to cut any frames out of its files. Before measuring the roles are those of the file names. */
export interface SoundingSong {
  readonly name: string;
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  /** Gain of mono stems, which stand in both channels. */
  readonly monoStems_dB: number;
  readonly files: Readonly<Record<TreatedRole, readonly SoundingFile[]>>;
  /** The sum of the rest, in the order of its additions. */
  readonly bed: readonly BedFile[];
  /** Finished records and rough mixes, which are no part of the song: each is heard from its beginning, at the song's rate. */
  readonly besides: readonly BesideFile[];
}

/** Asks whoever holds the song for frames `from..to` of these files; frames past the end are 0. */
export interface SoundRequest {
  readonly from: number;
  readonly to: number;
  readonly files: Readonly<Record<TreatedRole, readonly string[]>>;
}

/** The answer: fresh arrays in the order of the request, to be handed on by transfer. A mono file has one array twice. */
export type SoundAnswer = ChainInput;

/** What can be asked of the thread that plays. */
export interface SoundTasks {
  /** The roles that were said or remembered go before what the names say. */
  open: {
    readonly ask: {
      readonly source: SongSource;
      readonly roles: readonly { readonly file: string; readonly role: Role }[];
      readonly monoStems_dB: number;
    };
    readonly answer: SoundingSong;
  };
  /** What measuring found: who has which role, what is set aside. */
  correct: { readonly ask: SoundingSong; readonly answer: null };
  sound: { readonly ask: SoundRequest; readonly answer: SoundAnswer };
}
