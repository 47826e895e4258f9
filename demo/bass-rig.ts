import { allPass, bell } from '../core/dsp/biquad.js';
import { butterworthHighPass, butterworthLowPass } from '../core/dsp/butterworth.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import { dB_to_amplitude } from '../core/units/decibels.js';
import { midi_to_frequency } from '../core/units/notes.js';
import { SeededRandom } from '../core/units/seeded-random.js';
import { addAt, filteredTrack } from './instruments/filtered-track.js';
import { pluckedString } from './instruments/plucked-string.js';
import { bassNotes, SONG_LENGTH_S, type BassNote } from './score.js';

/** The instrument's own faults: a fret that rings out and one that dies, dB by note number. */
export const FRET_dB: ReadonlyMap<number, number> = new Map([
  [43, 5.8],
  [40, -5.2],
]);

/** The amp's microphone stands this far behind the direct track. */
export const AMP_DELAY_S = 0.0042;

/** The four strings: where each is open, how long it rings and how bright it is. */
const STRINGS = [
  { openMidi: 43, decayT60_s: 2.4, dampingCorner_Hz: 2600 },
  { openMidi: 38, decayT60_s: 2.9, dampingCorner_Hz: 2300 },
  { openMidi: 33, decayT60_s: 3.4, dampingCorner_Hz: 2000 },
  { openMidi: 28, decayT60_s: 3.8, dampingCorner_Hz: 1700 },
];

/** The tone control is closed: little is left above 150 Hz. */
const TONE_CORNER_HZ = 76;
const NOTE_LEVEL = 0.069;
const AMP_GAIN = 0.6;
/** A stereo pedal before the amp: the side signal against the middle, a quarter turn behind it in the lows. */
const WIDTH = 1.2;

/** The direct track, mono. */
export function bassDirect(sampleRate_Hz: number): Float64Array {
  const track = new Float64Array(Math.round(SONG_LENGTH_S * sampleRate_Hz));
  const random = new SeededRandom(21);
  for (const note of bassNotes()) {
    addAt(track, playedNote(note, sampleRate_Hz, random), Math.round(note.start_s * sampleRate_Hz));
  }
  return track;
}

function playedNote(note: BassNote, sampleRate_Hz: number, random: SeededRandom): Float64Array {
  const string = STRINGS.find(({ openMidi }) => openMidi <= note.midi && note.midi - openMidi < 5) ?? STRINGS[0]!;
  const sound = pluckedString(
    {
      frequency_Hz: midi_to_frequency(note.midi),
      length_s: note.length_s,
      decayT60_s: note.ghost ? 0.12 : string.decayT60_s,
      releaseT60_s: 0.13,
      dampingCorner_Hz: string.dampingCorner_Hz,
      pickPosition: 0.19 + 0.02 * random.normal(),
      touchCorner_Hz: 420 + 60 * note.touch_dB,
      noise: note.ghost ? 0.5 : 0.08,
      slideFrom_semitones: note.slideFrom_semitones,
      slide_s: Math.abs(note.slideFrom_semitones) > 2 ? 0.11 : 0.06,
    },
    sampleRate_Hz,
    random,
  );
  filteredTrack(sound, [
    ...butterworthLowPass(4, TONE_CORNER_HZ, sampleRate_Hz),
    ...butterworthHighPass(1, 24, sampleRate_Hz),
  ]);
  const wanted = NOTE_LEVEL * dB_to_amplitude(note.touch_dB + (FRET_dB.get(note.midi) ?? 0) - (note.ghost ? 9 : 0));
  scale(sound, wanted / rootMeanSquare(sound, 0.03 * sampleRate_Hz, 0.25 * sampleRate_Hz));
  return sound;
}

/** The same player through an amp: driven a little, a cabinet, a microphone further away, opened up in stereo. */
export function bassAmp(direct: Float64Array, sampleRate_Hz: number): StereoSignal {
  const delay = AMP_DELAY_S * sampleRate_Hz;
  const late = new Float64Array(direct.length);
  const whole = Math.floor(delay);
  const part = delay - whole;
  for (let n = whole + 1; n < late.length; n++) {
    const x = (1 - part) * direct[n - whole]! + part * direct[n - whole - 1]!;
    const u = 2.4 * x;
    late[n] = ((AMP_GAIN / 2.4) * (u + 0.22 * u * Math.abs(u))) / Math.sqrt(1 + u * u);
  }
  filteredTrack(late, [
    ...butterworthHighPass(2, 34, sampleRate_Hz),
    bell(sampleRate_Hz, 95, 0.9, 2.5),
    ...butterworthLowPass(2, 260, sampleRate_Hz),
  ]);
  const side = filteredTrack(late.slice(), [allPass(sampleRate_Hz, 170, 0.5)]);
  const left = new Float64Array(late.length);
  const right = new Float64Array(late.length);
  for (let n = 0; n < late.length; n++) {
    left[n] = late[n]! + WIDTH * side[n]!;
    right[n] = late[n]! - WIDTH * side[n]!;
  }
  return { left, right, sampleRate_Hz };
}

function rootMeanSquare(samples: Float64Array, from: number, to: number): number {
  let sum = 0;
  const first = Math.round(from);
  const last = Math.min(samples.length, Math.round(to));
  for (let i = first; i < last; i++) sum += samples[i]! * samples[i]!;
  return Math.sqrt(sum / Math.max(1, last - first));
}

function scale(samples: Float64Array, gain: number): void {
  for (let i = 0; i < samples.length; i++) samples[i]! *= gain;
}
