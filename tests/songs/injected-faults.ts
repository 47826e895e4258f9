import { allPass } from '../../core/dsp/biquad.js';
import { butterworthHighPass, butterworthLowPass } from '../../core/dsp/butterworth.js';
import type { Track } from '../../core/measure/song-sound.js';
import { isMono, monoSignal, type StereoSignal } from '../../core/signal/stereo-signal.js';
import { SeededRandom } from '../../core/units/seeded-random.js';
import { filteredTrack } from '../../demo/instruments/filtered-track.js';
import { withParts, type TestSong } from './song-of-parts.js';

/** Faults put into a sound song, each by an amount that can be swept. All are pure: the song given stays as it is. */

/** The kick so much lower under the same bass. */
export function injectCoveredKick(song: TestSong, amount_dB: number): TestSong {
  return withParts(song, { kick: song.sound.tracks.kick.map((track) => louder(track, -amount_dB)) });
}

/** The kick's body bleeds into the bass upside down, at `amount` of its size. */
export function injectCancellingLows(song: TestSong, amount: number): TestSong {
  const { left: kick, sampleRate_Hz } = song.sound.kick!;
  const bleed = filteredTrack(Float64Array.from(kick), butterworthLowPass(1, 400, sampleRate_Hz));
  return withParts(song, {
    bass: song.sound.tracks.bass.map((track, i) => (i > 0 ? track : changed(track, (x, n) => x - amount * bleed[n]!))),
  });
}

/** The last of several bass tracks late, or turned over. */
export function injectMisalignedMics(song: TestSong, delay_ms: number, polarity: 1 | -1 = 1): TestSong {
  const { bass } = song.sound.tracks;
  if (bass.length < 2) throw new RangeError(`${song.name} has one bass track: nothing to misalign`);
  const late = Math.round((delay_ms / 1000) * song.sound.sampleRate_Hz);
  const moved = (signal: StereoSignal) => mapped(signal, (_, n, channel) => polarity * (channel[n - late] ?? 0));
  return withParts(song, {
    bass: bass.map((track, i) => (i < bass.length - 1 ? track : { ...track, signal: moved(track.signal) })),
  });
}

/** A side signal a quarter turn from the middle below 150 Hz, at `amount` of its size: fold-down loss 10 lg(1 + amount^2). */
export function injectWideLows(song: TestSong, amount: number): TestSong {
  const widened = (signal: StereoSignal): StereoSignal => {
    const { sampleRate_Hz } = signal;
    const side = filteredTrack(Float64Array.from(signal.left), [
      allPass(sampleRate_Hz, 170, 0.5),
      ...butterworthLowPass(2, 400, sampleRate_Hz),
    ]);
    return {
      left: Float64Array.from(signal.left, (x, n) => x + amount * side[n]!),
      right: Float64Array.from(signal.right, (x, n) => x - amount * side[n]!),
      sampleRate_Hz,
    };
  };
  return withParts(song, {
    bass: song.sound.tracks.bass.map((track) => ({ ...track, signal: widened(track.signal) })),
  });
}

/** Every note at random up or down by half the spread, whatever its pitch. */
export function injectUnevenNotes(song: TestSong, spread_dB: number): TestSong {
  const random = new SeededRandom(7);
  const gains = song.truth.notes.map(() => (random.uniform() < 0.5 ? -0.5 : 0.5) * spread_dB);
  return withNoteGains(song, (i) => gains[i]!);
}

/** One pitch louder (or, under 0 dB, softer) than the others. */
export function injectResonantNote(song: TestSong, gain_dB: number, midi: number): TestSong {
  return withNoteGains(song, (i) => (midiOf(song.truth.notes[i]!.frequency_Hz) === midi ? gain_dB : 0));
}

/** Little left of the bass above a corner: eighth order. */
export function injectLostOnSmallSpeakers(song: TestSong, corner_Hz: number): TestSong {
  const { sampleRate_Hz } = song.sound;
  const sections = butterworthLowPass(8, corner_Hz, sampleRate_Hz);
  return withParts(song, {
    bass: song.sound.tracks.bass.map((track) => ({
      ...track,
      signal: monoSignal(filteredTrack(Float64Array.from(track.signal.left), sections), sampleRate_Hz),
    })),
  });
}

/** Noise of 7 to 13 Hz in the first file of the rest, at a level (10 lg mean square). */
export function injectRumble(song: TestSong, level_dBFS: number): TestSong {
  const { sampleRate_Hz, frameCount } = song.sound;
  const random = new SeededRandom(8);
  const floor = filteredTrack(
    Float64Array.from({ length: frameCount }, () => random.between(-1, 1)),
    [...butterworthHighPass(2, 7, sampleRate_Hz), ...butterworthLowPass(4, 13, sampleRate_Hz)],
  );
  const gain = 10 ** (level_dBFS / 20) / Math.sqrt(floor.reduce((sum, x) => sum + x * x, 0) / frameCount);
  return withParts(song, { rest: firstChanged(song, (x, n) => x + gain * floor[n]!) });
}

/** A constant in the first file of the rest: |mean| as 20 lg. */
export function injectDcOffset(song: TestSong, level_dBFS: number): TestSong {
  const offset = 10 ** (level_dBFS / 20);
  return withParts(song, { rest: firstChanged(song, (x) => x + offset) });
}

/** Everything louder. */
export function injectNoHeadroom(song: TestSong, gain_dB: number): TestSong {
  const { kick, bass, rest } = song.sound.tracks;
  const raised = (tracks: readonly Track[]) => tracks.map((track) => louder(track, gain_dB));
  return withParts(song, { kick: raised(kick), bass: raised(bass), rest: raised(rest) });
}

/** A gain per note, held from 5 ms before its onset to 5 ms before the next one's, raised cosine of 10 ms in between. */
function withNoteGains(song: TestSong, gainOf_dB: (note: number) => number): TestSong {
  const { notes } = song.truth;
  const { sampleRate_Hz, frameCount } = song.sound;
  const curve = new Float64Array(frameCount).fill(1);
  let before = 1;
  notes.forEach((note, i) => {
    const gain = 10 ** (gainOf_dB(i) / 20);
    const start = Math.round((note.start_s - 0.01) * sampleRate_Hz);
    const end = Math.round(((notes[i + 1]?.start_s ?? Infinity) - 0.01) * sampleRate_Hz);
    const ramp = 0.01 * sampleRate_Hz;
    for (let n = start; n < Math.min(end, frameCount); n++) {
      const share = n - start < ramp ? 0.5 - 0.5 * Math.cos((Math.PI * (n - start)) / ramp) : 1;
      curve[n] = before + share * (gain - before);
    }
    before = gain;
  });
  return withParts(song, { bass: song.sound.tracks.bass.map((track) => changed(track, (x, n) => x * curve[n]!)) });
}

function midiOf(frequency_Hz: number): number {
  return Math.round(69 + 12 * Math.log2(frequency_Hz / 440));
}

function firstChanged(song: TestSong, change: (x: number, n: number) => number): Track[] {
  return song.sound.tracks.rest.map((track, i) => (i > 0 ? track : changed(track, change)));
}

function louder(track: Track, gain_dB: number): Track {
  const gain = 10 ** (gain_dB / 20);
  return changed(track, (x) => gain * x);
}

function changed(track: Track, change: (x: number, n: number) => number): Track {
  return { ...track, signal: mapped(track.signal, change) };
}

function mapped(
  signal: StereoSignal,
  change: (x: number, n: number, channel: ArrayLike<number>) => number,
): StereoSignal {
  const left = Float64Array.from(signal.left, (x, n) => change(x, n, signal.left));
  const right = isMono(signal) ? left : Float64Array.from(signal.right, (x, n) => change(x, n, signal.right));
  return { left, right, sampleRate_Hz: signal.sampleRate_Hz };
}
