import type { Hit, Note } from '../song/song.js';
import type { Reading } from '../units/reading.js';
import type { StereoSignal } from '../signal/stereo-signal.js';

/** One file of a role, conformed to the song's rate, start and length. */
export interface Track {
  readonly file: string;
  readonly signal: StereoSignal;
}

/**
 * The song as sound at one rate and length: the sum of each role (null where the song has none) and the single tracks of kick,
 * bass and rest where they are still at hand (single rest tracks may have been summed to a bed as they were read).
 */
export interface SongSound {
  readonly sampleRate_Hz: number;
  readonly frameCount: number;
  readonly kick: StereoSignal | null;
  readonly bass: StereoSignal | null;
  readonly rest: StereoSignal | null;
  readonly tracks: {
    readonly kick: readonly Track[];
    readonly bass: readonly Track[];
    readonly rest: readonly Track[];
  };
}

/** What is known of the song before it is measured: every hit and every note. Used for source and print alike. */
export interface Knowledge {
  readonly hits: readonly Hit[];
  readonly notes: readonly Note[];
  readonly tempo_bpm: Reading;
  readonly fundamental_Hz: Reading;
  readonly decay_ms: Reading;
}
