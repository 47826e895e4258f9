import { monoSignal, type StereoSignal } from '../../core/signal/stereo-signal.js';
import { SeededRandom } from '../../core/units/seeded-random.js';
import { bassLine, type NoteTruth } from './synthetic-bass.js';
import { kickLine, kickSound, PLAIN_KICK } from './synthetic-kick.js';

const LENGTH_S = 4;
const BEAT_S = 0.5;

/** A kick on every beat and a bass between, four seconds long: for tests that need a song, but not its music. */
export function smallSong(sampleRate_Hz = 48_000): { readonly kick: StereoSignal; readonly bass: StereoSignal } {
  const hits = Array.from({ length: 7 }, (_, i) => ({ time_s: 0.2 + i * BEAT_S, gain: 0.5 }));
  const sound = kickSound({ ...PLAIN_KICK, click: 0.3 }, sampleRate_Hz, new SeededRandom(1));
  const pitches_Hz = [55, 65.41, 82.41, 73.42];
  const notes = hits.map(({ time_s }, i): NoteTruth => {
    const frequency_Hz = pitches_Hz[i % 4]!;
    return { start_s: time_s + 0.22, end_s: time_s + 0.48, frequency_Hz, gain: 0.8, from_Hz: frequency_Hz, glide_s: 0 };
  });
  return {
    kick: monoSignal(kickLine(hits, sound, sampleRate_Hz, LENGTH_S), sampleRate_Hz),
    bass: monoSignal(bassLine(notes, 'pluck', sampleRate_Hz, LENGTH_S), sampleRate_Hz),
  };
}
