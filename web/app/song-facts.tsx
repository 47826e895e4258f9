import type { ReactNode } from 'react';
import { sayCount } from '../../core/findings/say-figure.js';
import { nearestNote } from '../../core/units/notes.js';
import { valueOf } from '../../core/units/reading.js';
import type { InspectedSong } from '../../protocol/job-messages.js';

/** The one sentence of facts beside the song's name. */
export function songFacts(song: InspectedSong): ReactNode {
  const { hits, notes, tempo_bpm, fundamental_Hz } = song.measured.known;
  const tempo = valueOf(tempo_bpm);
  const rings = valueOf(fundamental_Hz);
  return (
    <>
      <b>{sayDuration(song.frameCount / song.sampleRate_Hz)}</b>
      {tempo !== null && (
        <>
          {' '}
          at <b>{tempo.toFixed(2)}&nbsp;bpm</b>
        </>
      )}
      .{' '}
      {hits.length === 0 ? (
        'No kick hits are found'
      ) : (
        <>
          The kick lands <b>{sayCount(hits.length, 'time')}</b>
        </>
      )}
      {hits.length > 0 && rings !== null && (
        <>
          {' '}
          and rings at <b>{rings.toFixed(1)}&nbsp;Hz</b>
        </>
      )}
      .{' '}
      {notes.length === 0 ? (
        'No bass notes are found.'
      ) : (
        <>
          The bass plays <b>{sayCount(notes.length, 'note')}</b>
          {range(song)}.
        </>
      )}
    </>
  );
}

function range({ measured }: InspectedSong): ReactNode {
  const { notes } = measured.known;
  const lowest = Math.min(...notes.map(({ frequency_Hz }) => frequency_Hz));
  const highest = Math.max(...notes.map(({ frequency_Hz }) => frequency_Hz));
  return (
    <>
      , <b>{nearestNote(lowest).name}</b> to <b>{nearestNote(highest).name}</b>
    </>
  );
}

/** `3 min 3 s`, `42 s`. */
export function sayDuration(duration_s: number): string {
  const whole = Math.round(duration_s);
  const minutes = Math.floor(whole / 60);
  const seconds = `${whole % 60}\u00a0s`;
  return minutes === 0 ? seconds : `${minutes}\u00a0min ${seconds}`;
}
