import type { SongSound } from '../core/measure/song-sound.js';

/** Bytes of the samples that a copy of a song's sound takes; what stands for two is counted once. */
export function soundBytes({ kick, bass, rest, tracks }: SongSound): number {
  const signals = [kick, bass, rest, ...[...tracks.kick, ...tracks.bass, ...tracks.rest].map(({ signal }) => signal)];
  const channels = signals.flatMap((signal) => (signal === null ? [] : [signal.left, signal.right]));
  return [...new Set(channels)].reduce((sum, { byteLength }) => sum + byteLength, 0);
}
