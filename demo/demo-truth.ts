import { midi_to_frequency } from '../core/units/notes.js';
import { AMP_DELAY_S, FRET_dB } from './bass-rig.js';
import { bassNotes, kickStrokes, TEMPO_BPM } from './score.js';

/** What was played, exactly: for tests that ask whether the song is known rightly. */
export interface DemoTruth {
  readonly tempo_bpm: number;
  /** Attacks of the kick: the first sample at 10 % of the hit's peak. */
  readonly hits: readonly { readonly time_s: number }[];
  readonly notes: readonly DemoNote[];
  /** The faults built in, by the finding that names them. */
  readonly faults: readonly DemoFault[];
}

export interface DemoNote {
  readonly start_s: number;
  readonly end_s: number;
  /** The pitch arrived at, where the note slides. */
  readonly frequency_Hz: number;
  readonly midi: number;
  /** Ghost notes are muted: they last under 100 ms and sound 9 dB lower. */
  readonly ghost: boolean;
}

export interface DemoFault {
  readonly finding: string;
  readonly what: string;
}

/** The beater reaches a tenth of the hit's peak this long after the stroke begins (measured on the kick tracks' sum). */
const ATTACK_S = 0.0004;

export const demoTruth: DemoTruth = {
  tempo_bpm: TEMPO_BPM,
  hits: kickStrokes().map(({ time_s }) => ({ time_s: time_s + ATTACK_S })),
  notes: bassNotes().map(({ start_s, length_s, midi, ghost }) => ({
    start_s,
    end_s: start_s + length_s,
    frequency_Hz: midi_to_frequency(midi),
    midi,
    ghost,
  })),
  faults: [
    { finding: 'covered-kick', what: 'A1 lies on the kick fundamental' },
    { finding: 'misaligned-mics', what: `Bass Amp is ${AMP_DELAY_S * 1000} ms behind Bass DI` },
    { finding: 'wide-lows', what: 'Bass Amp has a wide side signal in its lows' },
    ...[...FRET_dB].map(([midi, gain_dB]) => ({
      finding: 'resonant-note',
      what: `note ${midi} is ${gain_dB} dB off the even line`,
    })),
    { finding: 'lost-on-small-speakers', what: 'the bass has little above 150 Hz' },
    { finding: 'rumble', what: 'Guitar carries 7 to 13 Hz from the floor' },
  ],
};
