import type { StereoSignal } from '../signal/stereo-signal.js';
import type { Note } from '../song/song.js';
import { NoteSpectrum } from './note-spectrum.js';
import { noteWindow, ONSET_s, SHORTEST_COUNTED_s, type FrameRange } from './note-window.js';
import { SMALL_SPEAKERS, speakerPowers, type SpeakerId } from './small-speakers.js';

const WINDOW_s = 0.35;
const HIGHEST_Hz = 4000;
const MOST_HARMONICS = 16;
/** 6 dB under the other stems in its critical band a harmonic is lost. */
const OVER_OTHERS = 0.251188643150958;
/** 40 dB under all that the loudspeaker plays it is lost. */
const OVER_ALL = 1e-4;

/** Which harmonics of a note are heard on each loudspeaker, from the fundamental up, and the longest run of successive ones. */
export interface HeardHarmonics {
  readonly heard: Readonly<Record<SpeakerId, readonly boolean[]>>;
  readonly run: Readonly<Record<SpeakerId, number>>;
}

/**
 * Heard harmonics, note by note. Window 30 ms after the onset to min(350 ms, end - 20 ms), Hann. Harmonic h of the note list's
 * fundamental (to 4 kHz, at most 16) is heard where its power within +- min(ERB/2, 0.45 f0), at least 8 Hz, is more than -6 dB
 * against the other stems within +- ERB/2 and more than -40 dB against bass and others together (powers added), all through
 * the loudspeaker's response. ERB = 24.7 (4.37 f/kHz + 1) Hz: B. R. Glasberg and B. C. J. Moore, Hearing Research 47, 1990.
 *
 * What the other stems give is computed once, so that only the bass is analysed again by `of`.
 */
export class HeardHarmonicsMeter {
  private readonly spectrum: NoteSpectrum;
  private readonly responses: Float64Array[];
  private readonly running: Float64Array;
  private readonly others: (NotePowers | null)[];

  constructor(
    others: StereoSignal | null,
    private readonly notes: readonly Note[],
    sampleRate_Hz: number,
  ) {
    this.spectrum = new NoteSpectrum(sampleRate_Hz, WINDOW_s - ONSET_s);
    this.running = new Float64Array(this.spectrum.binCount + 1);
    this.responses = SMALL_SPEAKERS.map((speaker) =>
      speakerPowers(speaker, this.spectrum.bin_Hz, this.spectrum.binCount, sampleRate_Hz),
    );
    this.others = notes.map((note) => (others === null ? null : this.powersOf(others, note, erbHalf_Hz)));
  }

  /** One result per note; null where it is shorter than 100 ms or lies outside the signal. */
  of(bass: StereoSignal): (HeardHarmonics | null)[] {
    return this.notes.map((note, i) => {
      const own = this.powersOf(bass, note, (frequency_Hz) => ownHalf_Hz(frequency_Hz, note.frequency_Hz));
      return own === null ? null : heardOf(own, this.others[i] ?? null);
    });
  }

  private powersOf(signal: StereoSignal, note: Note, half_Hz: (frequency_Hz: number) => number): NotePowers | null {
    if (note.end_s - note.start_s < SHORTEST_COUNTED_s) return null;
    const range: FrameRange | null = noteWindow(note, WINDOW_s, signal);
    if (range === null) return null;
    const power = this.spectrum.take(signal, range);
    const count = harmonicCount(note.frequency_Hz);
    const harmonics: number[][] = [];
    const totals: number[] = [];
    for (const response of this.responses) {
      this.accumulate(power, response);
      totals.push(this.running[power.length]!);
      harmonics.push(
        Array.from({ length: count }, (_, h) => {
          const frequency_Hz = (h + 1) * note.frequency_Hz;
          return this.powerWithin(frequency_Hz - half_Hz(frequency_Hz), frequency_Hz + half_Hz(frequency_Hz));
        }),
      );
    }
    return { harmonics, totals };
  }

  /** Running sums of the spectrum through a response: entry k holds all bins below k. */
  private accumulate(power: Float64Array, response: Float64Array): void {
    let sum = 0;
    for (let k = 0; k < power.length; k++) {
      this.running[k] = sum;
      sum += power[k]! * response[k]!;
    }
    this.running[power.length] = sum;
  }

  private powerWithin(low_Hz: number, high_Hz: number): number {
    const { bin_Hz, binCount } = this.spectrum;
    const from = Math.max(0, Math.ceil(low_Hz / bin_Hz));
    const to = Math.min(binCount, Math.floor(high_Hz / bin_Hz) + 1);
    return to > from ? this.running[to]! - this.running[from]! : 0;
  }
}

/** Per loudspeaker: the power around each harmonic, and the power of everything. */
interface NotePowers {
  readonly harmonics: readonly (readonly number[])[];
  readonly totals: readonly number[];
}

function harmonicCount(fundamental_Hz: number): number {
  return Math.max(1, Math.min(MOST_HARMONICS, Math.floor(HIGHEST_Hz / fundamental_Hz)));
}

function erbHalf_Hz(frequency_Hz: number): number {
  return (24.7 * (0.00437 * frequency_Hz + 1)) / 2;
}

function ownHalf_Hz(frequency_Hz: number, fundamental_Hz: number): number {
  return Math.max(8, Math.min(erbHalf_Hz(frequency_Hz), 0.45 * fundamental_Hz));
}

function heardOf(own: NotePowers, others: NotePowers | null): HeardHarmonics {
  const heard = SMALL_SPEAKERS.map((_, s) => {
    const all = own.totals[s]! + (others?.totals[s] ?? 0);
    return own.harmonics[s]!.map((power, h) => {
      const against = others?.harmonics[s]![h] ?? 0;
      return power > OVER_OTHERS * against && power > OVER_ALL * all;
    });
  });
  return { heard: bySpeaker((s) => heard[s]!), run: bySpeaker((s) => longestRun(heard[s]!)) };
}

function longestRun(heard: readonly boolean[]): number {
  let run = 0;
  let longest = 0;
  for (const one of heard) {
    run = one ? run + 1 : 0;
    longest = Math.max(longest, run);
  }
  return longest;
}

/** A record over the loudspeakers, made from their place in the list. */
export function bySpeaker<T>(make: (index: number) => T): Record<SpeakerId, T> {
  return Object.fromEntries(SMALL_SPEAKERS.map(({ id }, s) => [id, make(s)])) as Record<SpeakerId, T>;
}
