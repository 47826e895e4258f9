import { useCallback, useEffect, useState } from 'react';
import type { Stem } from '../../core/song/song.js';
import { defaultTreatment } from '../../core/treatment/paths.js';
import type { Treatment } from '../../core/treatment/treatment.js';
import { isMeasured } from '../../core/units/reading.js';
import type { InspectedSong, ReferenceLoudness } from '../../protocol/job-messages.js';
import type { SoundingSong } from '../../protocol/sound-request.js';
import type { Playback } from '../audio/engine-deck.js';
import type { ReferencePlace, ReferenceRow } from '../listen/ReferenceChoice.js';
import type { LiveListening } from './use-live-sound.js';

export type AskForLoudness = (file: string) => Promise<ReferenceLoudness>;

/** A reference as it can be played: its gain is known, or why it is not. */
export interface Reference extends ReferenceRow {
  /** Length at the song's rate. */
  readonly frameCount: number;
}

/** However soft a reference is, it is raised by no more than this. */
const MOST_RAISED_dB = 12;

/** The references of a song as the bar and the sheet see them. */
export interface HeardReference {
  readonly rows: readonly Reference[];
  /** The one that is chosen, with its gain; null for the song. */
  readonly heard: { readonly name: string; readonly gain_dB: number | null } | null;
  readonly place: ReferencePlace | null;
}

/** The references of the song; the one that is chosen is heard as soon as its gain is known, never before. */
export function useHeardReference(
  { sound, listening }: LiveListening,
  playback: Playback,
  song: InspectedSong | null,
  { sampleRate_Hz }: SoundingSong,
  ask: AskForLoudness,
): HeardReference {
  const file = listening.reference;
  const rows = useReferences(song?.stems ?? NO_STEMS, sampleRate_Hz, file, ask);
  const chosen = rows.find((row) => row.file === file) ?? null;
  const [loops, setLoops] = useState<ReadonlyMap<string, Stretch | null>>(new Map());
  useEffect(() => setLoops(new Map()), [sound]);
  const gain_dB = chosen?.gain_dB ?? null;
  const frameCount = chosen?.frameCount ?? 0;
  useEffect(() => {
    if (sound === null) return;
    if (file === null || gain_dB === null) sound.hearReference(null, null, 0);
    else sound.hearReference(file, { treatment: recordAlone(file, sampleRate_Hz), frameCount }, gain_dB);
  }, [sound, file, gain_dB, frameCount, sampleRate_Hz]);
  if (chosen === null) return { rows, heard: null, place: null };
  const heard = { name: chosen.label, gain_dB };
  if (sound === null || gain_dB === null) return { rows, heard, place: null };
  const frame = (time_s: number) => Math.round(time_s * sampleRate_Hz);
  const place: ReferencePlace = {
    position_s: playback.position / sampleRate_Hz,
    duration_s: frameCount / sampleRate_Hz,
    loop: loops.get(chosen.file) ?? null,
    locate: (time_s) => sound.referenceNamed(chosen.file)?.locate(frame(time_s)),
    setLoop: (loop) => {
      setLoops((before) => new Map(before).set(chosen.file, loop));
      const deck = sound.referenceNamed(chosen.file);
      deck?.setLoop(loop === null ? null : { from: frame(loop[0]), to: frame(loop[1]) });
    },
  };
  return { rows, heard, place };
}

type Stretch = readonly [number, number];
const NO_STEMS: readonly Stem[] = [];

/** A finished record as a song of one file, with nothing done to it. */
function recordAlone(file: string, sampleRate_Hz: number): Treatment {
  return defaultTreatment({ sampleRate_Hz, notes: [], hits: [], files: { kick: [], bass: [], rest: [file] } });
}

/** The references among the files of the song; the loudness of one is measured when it is first chosen. */
function useReferences(
  stems: readonly Stem[],
  sampleRate_Hz: number,
  chosen: string | null,
  ask: AskForLoudness,
): readonly Reference[] {
  const [measured, setMeasured] = useState<ReadonlyMap<string, Pick<Reference, 'gain_dB' | 'trouble'>>>(new Map());
  useEffect(() => setMeasured(new Map()), [stems]);
  const take = useCallback(
    (file: string, result: Pick<Reference, 'gain_dB' | 'trouble'>) =>
      setMeasured((before) => new Map(before).set(file, result)),
    [],
  );
  const needed = chosen !== null && !measured.has(chosen);
  useEffect(() => {
    if (!needed) return undefined;
    let over = false;
    ask(chosen).then(
      (loudness) => !over && take(chosen, gainOf(loudness)),
      (error: unknown) => !over && take(chosen, { gain_dB: null, trouble: wordsOf(error) }),
    );
    return () => {
      over = true;
    };
  }, [needed, chosen, ask, take]);
  return stems
    .filter(({ role }) => role === 'reference')
    .map(({ file, frameCount, sampleRate_Hz: own_Hz }) => ({
      file,
      label: file.replace(/^.*\//, '').replace(/\.\w+$/, ''),
      frameCount: Math.ceil((frameCount * sampleRate_Hz) / own_Hz),
      ...(measured.get(file) ?? { gain_dB: null, trouble: null }),
    }));
}

function gainOf({ song_LUFS, reference_LUFS }: ReferenceLoudness): Pick<Reference, 'gain_dB' | 'trouble'> {
  if (!isMeasured(song_LUFS)) return { gain_dB: null, trouble: `Not matched: of the song, ${song_LUFS.reason}.` };
  if (!isMeasured(reference_LUFS)) {
    return { gain_dB: null, trouble: `Not matched: of the reference, ${reference_LUFS.reason}.` };
  }
  return { gain_dB: Math.min(MOST_RAISED_dB, song_LUFS.value - reference_LUFS.value), trouble: null };
}

function wordsOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
