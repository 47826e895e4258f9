import { MONO_QUESTION, type OpenSong } from '../../core/job/open-song.js';
import type { Measurements } from '../../core/measure/measurements.js';
import { nearestNote } from '../../core/units/notes.js';
import { valueOf } from '../../core/units/reading.js';
import { numberText } from './figure-text.js';
import { wrapText } from './table.js';

/** What the song is, in sentences: length, tempo, kick, bass, and what else is to be known. */
export function factsText(song: OpenSong, { known }: Measurements, width: number): string {
  const sentences = [
    `${song.name}: ${lengthText(song.frameCount / song.sampleRate_Hz)} at ${song.sampleRate_Hz / 1000} kHz${tempoText(valueOf(known.tempo_bpm))}.`,
    kickText(known.hits.length, valueOf(known.fundamental_Hz), valueOf(known.decay_ms)),
    bassText(known.notes.map(({ frequency_Hz }) => frequency_Hz)),
    ...song.remarks.map(withOption),
  ];
  return sentences
    .filter((sentence) => sentence !== '')
    .flatMap((sentence) => wrapText(sentence, width))
    .map((line) => `${line}\n`)
    .join('');
}

/** A question is told with the option that answers it. */
function withOption(remark: string): string {
  return remark === MONO_QUESTION ? `${remark} Here: --mono-stems -3.` : remark;
}

function lengthText(seconds: number): string {
  const minutes = Math.floor(seconds / 60);
  return minutes === 0 ? `${numberText(seconds, 1)} s` : `${minutes} min ${numberText(seconds - 60 * minutes, 0)} s`;
}

function tempoText(tempo_bpm: number | null): string {
  return tempo_bpm === null ? ', no steady tempo' : `, ${numberText(tempo_bpm, 2)} bpm`;
}

function kickText(hits: number, fundamental_Hz: number | null, decay_ms: number | null): string {
  if (hits === 0) return '';
  const rings = fundamental_Hz === null ? '' : ` and rings at ${numberText(fundamental_Hz, 1)} Hz`;
  const decay = fundamental_Hz === null || decay_ms === null ? '' : ` for ${numberText(decay_ms, 0)} ms`;
  return `The kick lands ${hits} times${rings}${decay}.`;
}

function bassText(frequencies_Hz: readonly number[]): string {
  if (frequencies_Hz.length === 0) return '';
  const lowest = frequencies_Hz.reduce((least, frequency) => Math.min(least, frequency));
  const highest = frequencies_Hz.reduce((most, frequency) => Math.max(most, frequency));
  return `The bass plays ${frequencies_Hz.length} notes, ${nearestNote(lowest).name} to ${nearestNote(highest).name}.`;
}
