import { butterworthHighPass } from '../../core/dsp/butterworth.js';
import type { Track } from '../../core/measure/song-sound.js';
import { monoSignal } from '../../core/signal/stereo-signal.js';
import { SeededRandom } from '../../core/units/seeded-random.js';
import { cymbalHit } from '../../demo/instruments/cymbal.js';
import { electricPianoNote } from '../../demo/instruments/electric-piano.js';
import { addAt, filteredTrack } from '../../demo/instruments/filtered-track.js';
import { KickDrum, type KickVoice } from '../../demo/instruments/kick-drum.js';
import { SnareDrum } from '../../demo/instruments/snare-drum.js';
import type { PlayedNote } from './song-of-parts.js';

/** One bar of sixteen steps. Drum lines as in `demo/score.ts`; bass notes as [step, length in steps, note number]. */
export interface Bar {
  readonly kick: string;
  readonly snare: string;
  readonly hat: string;
  readonly bass: readonly (readonly [number, number, number])[];
  readonly chord: readonly number[];
}

export interface Arrangement {
  readonly seed: number;
  readonly sampleRate_Hz: number;
  readonly tempo_bpm: number;
  readonly barCount: number;
  /** Played in turn until `barCount` bars are full. */
  readonly bars: readonly Bar[];
  /** Deviation of human time. */
  readonly scatter_s: number;
}

export interface Step {
  readonly time_s: number;
  readonly mark: string;
  readonly bar: Bar;
}

const START_S = 0.4;
const TAIL_S = 1.2;

export class Players {
  private readonly random: SeededRandom;
  private readonly step_s: number;
  private readonly frameCount: number;

  constructor(private readonly song: Arrangement) {
    this.random = new SeededRandom(song.seed);
    this.step_s = 15 / song.tempo_bpm;
    this.frameCount = Math.round((START_S + song.barCount * 16 * this.step_s + TAIL_S) * song.sampleRate_Hz);
  }

  empty(): Float64Array {
    return new Float64Array(this.frameCount);
  }

  track(file: string, samples: Float64Array): Track {
    return { file, signal: monoSignal(samples, this.song.sampleRate_Hz) };
  }

  steps(line: (bar: Bar) => string): Step[] {
    const steps: Step[] = [];
    this.eachBar((bar, start_s) => {
      [...line(bar)].forEach((mark, step) => {
        if (mark !== '.') steps.push({ time_s: this.human(start_s + step * this.step_s), mark, bar });
      });
    });
    return steps;
  }

  bassNotes(): (PlayedNote & { readonly midi: number })[] {
    const notes: (PlayedNote & { readonly midi: number })[] = [];
    this.eachBar((bar, bar_s) => {
      for (const [step, length, midi] of bar.bass) {
        const start_s = this.human(bar_s + step * this.step_s);
        notes.push({
          start_s,
          end_s: start_s + length * this.step_s,
          frequency_Hz: 440 * 2 ** ((midi - 69) / 12),
          midi,
        });
      }
    });
    return notes;
  }

  kick(voice: KickVoice, hits: readonly Step[], gain: number): { inside: Float64Array; outside: Float64Array } {
    const inside = this.empty();
    const outside = this.empty();
    const drum = new KickDrum(voice, this.song.sampleRate_Hz);
    for (const { time_s } of hits) {
      const sound = drum.hit(0.85 + 0.05 * this.random.normal(), this.random);
      addAt(inside, sound.inside, this.frameAt(time_s), gain);
      addAt(outside, sound.outside, this.frameAt(time_s), 0.8 * gain);
    }
    return { inside, outside };
  }

  drums(gain: number): Track {
    const { sampleRate_Hz } = this.song;
    const mix = this.empty();
    const drum = new SnareDrum({ head_Hz: 195, headDecay_s: 0.07, wireDecay_s: 0.12, wires: 0.8 }, sampleRate_Hz);
    const snare = drum.hit(0.9, this.random);
    const hat = cymbalHit(
      { lowest_Hz: 3300, decay_s: 0.05, thinCorner_Hz: 6500, noise: 0.5, length_s: 0.2 },
      sampleRate_Hz,
      this.random,
    );
    const levels: Record<string, number> = { X: 1, x: 0.7, o: 0.25 };
    for (const { time_s, mark } of this.steps((bar) => bar.snare))
      addAt(mix, snare, this.frameAt(time_s), gain * levels[mark]!);
    for (const { time_s, mark } of this.steps((bar) => bar.hat))
      addAt(mix, hat, this.frameAt(time_s), 0.5 * gain * levels[mark]!);
    return this.track('Drums.wav', mix);
  }

  keys(gain: number): Track {
    const { sampleRate_Hz } = this.song;
    const mix = this.empty();
    const takes = new Map<number, Float64Array>();
    this.eachBar(({ chord }, start_s) => {
      for (const midi of chord) {
        const voice = { frequency_Hz: 440 * 2 ** ((midi - 69) / 12), length_s: 14 * this.step_s, velocity: 0.7 };
        const take = takes.get(midi) ?? electricPianoNote(voice, sampleRate_Hz);
        takes.set(midi, take);
        addAt(mix, take, this.frameAt(this.human(start_s)), gain);
      }
    });
    return this.track('Keys.wav', filteredTrack(mix, butterworthHighPass(2, 150, sampleRate_Hz)));
  }

  /** Adds a note at its time, brought to a level: root mean square over 30 to 250 ms, with a touch of half a decibel. */
  place(track: Float64Array, note: PlayedNote, sound: Float64Array, level: number): void {
    const { sampleRate_Hz } = this.song;
    const to = Math.min(0.25, note.end_s - note.start_s - 0.02);
    const part = sound.subarray(Math.round(0.03 * sampleRate_Hz), Math.round(to * sampleRate_Hz));
    const rms = Math.sqrt(part.reduce((sum, x) => sum + x * x, 0) / part.length);
    addAt(track, sound, this.frameAt(note.start_s), (level / rms) * 10 ** (0.025 * this.random.normal()));
  }

  private human(time_s: number): number {
    return this.frameAt(time_s + this.song.scatter_s * this.random.normal()) / this.song.sampleRate_Hz;
  }

  private frameAt(time_s: number): number {
    return Math.round(time_s * this.song.sampleRate_Hz);
  }

  private eachBar(visit: (bar: Bar, start_s: number) => void): void {
    for (let i = 0; i < this.song.barCount; i++) {
      visit(this.song.bars[i % this.song.bars.length]!, START_S + i * 16 * this.step_s);
    }
  }
}
