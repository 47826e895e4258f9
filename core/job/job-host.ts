import type { CompressedDecoders } from '../audio-file/compressed-decoders.js';
import type { Fingerprinter, ProgressListener, SongFolder } from './ports.js';

/** What a host lends to the job: the song folder, its decoders, a fast fingerprint, and an ear for progress. */
export interface JobHost {
  readonly folder: SongFolder;
  readonly decoders: CompressedDecoders;
  readonly fingerprint: Fingerprinter;
  readonly progress?: ProgressListener;
}
