import type { SongSound, Track } from '../../core/measure/song-sound.js';
import { sumOf, type StereoSignal } from '../../core/signal/stereo-signal.js';
import type { Hit, Note } from '../../core/song/song.js';

/** A song as sound, with what was really played. */
export interface TestSong {
  readonly name: string;
  readonly sound: SongSound;
  readonly truth: SongTruth;
}

export interface SongTruth {
  readonly hits: readonly Hit[];
  readonly notes: readonly Note[];
  readonly tempo_bpm: number;
}

export interface SongParts {
  readonly kick: readonly Track[];
  readonly bass: readonly Track[];
  readonly rest: readonly Track[];
}

export interface PlayedNote {
  readonly start_s: number;
  readonly end_s: number;
  readonly frequency_Hz: number;
}

export interface Played {
  readonly tempo_bpm: number;
  readonly hits_s: readonly number[];
  readonly notes: readonly PlayedNote[];
}

/** Sums the tracks of each role; the true lists take their levels from the sound, by the definitions of `Hit` and `Note`. */
export function songOfParts(name: string, parts: SongParts, played: Played): TestSong {
  const first = (parts.kick[0] ?? parts.bass[0] ?? parts.rest[0])!.signal;
  const sumOfTracks = (tracks: readonly Track[]) => sumOf(tracks.map(({ signal }) => signal));
  const kick = sumOfTracks(parts.kick);
  const bass = sumOfTracks(parts.bass);
  const sound: SongSound = {
    sampleRate_Hz: first.sampleRate_Hz,
    frameCount: first.left.length,
    kick,
    bass,
    rest: sumOfTracks(parts.rest),
    tracks: parts,
  };
  return {
    name,
    sound,
    truth: {
      tempo_bpm: played.tempo_bpm,
      hits: played.hits_s.map((time_s) => ({ time_s, level_dBFS: levelOf(kick, time_s, time_s + 0.15) })),
      notes: played.notes.map((note) => noteOf(note, bass)),
    },
  };
}

/** The same song with other tracks. */
export function withParts(song: TestSong, parts: Partial<SongParts>): TestSong {
  const { hits, notes, tempo_bpm } = song.truth;
  return songOfParts(
    song.name,
    { ...song.sound.tracks, ...parts },
    { tempo_bpm, hits_s: hits.map((h) => h.time_s), notes },
  );
}

function noteOf({ start_s, end_s, frequency_Hz }: PlayedNote, bass: StereoSignal | null): Note {
  return {
    start_s,
    end_s,
    frequency_Hz,
    level_dBFS: levelOf(bass, start_s + 0.03, Math.min(start_s + 0.25, end_s - 0.02)),
    harmonics_dB: [],
    fundamentalMissing: false,
    curve_Hz: null,
    curveStep_s: 0.01,
  };
}

function levelOf(signal: StereoSignal | null, from_s: number, to_s: number): number {
  if (signal === null) return -200;
  const from = Math.round(from_s * signal.sampleRate_Hz);
  const to = Math.min(signal.left.length, Math.round(to_s * signal.sampleRate_Hz));
  let power = 0;
  for (let n = from; n < to; n++) power += signal.left[n]! ** 2 + signal.right[n]! ** 2;
  return 10 * Math.log10(Math.max(1e-20, power / (2 * Math.max(1, to - from))));
}
