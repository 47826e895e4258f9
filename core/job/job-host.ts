import type { CompressedDecoders } from '../audio-file/compressed-decoders.js';
import type { Checkpoint } from '../solve/solve-watch.js';
import type { Fingerprinter, ProgressListener, SongFolder } from './ports.js';

/** What a host lends to the job: the song folder, its decoders, a fast fingerprint, and an ear for progress. */
export interface JobHost {
  readonly folder: SongFolder;
  readonly decoders: CompressedDecoders;
  readonly fingerprint: Fingerprinter;
  readonly progress?: ProgressListener;
  /** Asked about every second while a treatment is solved; `stop` keeps the best so far. */
  readonly checkpoint?: Checkpoint;
}
