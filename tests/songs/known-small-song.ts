import { knowSong } from '../../core/measure/know-song.js';
import { measureSong, type Measurements } from '../../core/measure/measurements.js';
import type { Knowledge, SongSound } from '../../core/measure/song-sound.js';
import { monoSignal } from '../../core/signal/stereo-signal.js';
import { SeededRandom } from '../../core/units/seeded-random.js';
import { smallSong } from './small-song.js';

export interface KnownSong {
  readonly source: SongSound;
  readonly known: Knowledge;
  readonly measured: Measurements;
}

/** The small song over a backing of white noise of this peak, with its hits and notes found and all of it measured. */
export function knownSmallSong(backing: number): KnownSong {
  const { kick, bass } = smallSong();
  const random = new SeededRandom(3);
  const noise = bass.left.map(() => random.between(-backing, backing));
  const source: SongSound = {
    sampleRate_Hz: 48_000,
    frameCount: bass.left.length,
    kick,
    bass,
    rest: monoSignal(noise, 48_000),
    tracks: { kick: [{ file: 'Kick.wav', signal: kick }], bass: [{ file: 'Bass.wav', signal: bass }], rest: [] },
  };
  const known = knowSong(source);
  return { source, known, measured: measureSong(source, known) };
}
