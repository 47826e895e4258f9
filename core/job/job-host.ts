import type { ByteSource } from '../audio-file/byte-source.js';
import type { CompressedDecoders } from '../audio-file/compressed-decoders.js';
import type { Checkpoint } from '../solve/solve-watch.js';
import type { Fingerprinter, ProgressListener, SongFolder } from './ports.js';

/** What a host lends to the job: the song folder, its decoders, a fast fingerprint, and an ear for progress. */
export interface JobHost {
  readonly folder: SongFolder;
  readonly decoders: CompressedDecoders;
  readonly fingerprint: Fingerprinter;
  /** Lent where reading piece by piece is dear: the same bytes, held in memory where there is room for them. */
  readonly held?: (source: ByteSource) => Promise<ByteSource>;
  readonly progress?: ProgressListener;
  /** Asked about every second while a treatment is solved; `stop` keeps the best so far. */
  readonly checkpoint?: Checkpoint;
}
