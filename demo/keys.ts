import { butterworthHighPass } from '../core/dsp/butterworth.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import { midi_to_frequency } from '../core/units/notes.js';
import { sinCycles } from '../core/units/exact-math.js';
import { SeededRandom } from '../core/units/seeded-random.js';
import { electricPianoNote } from './instruments/electric-piano.js';
import { addAt, filteredTrack } from './instruments/filtered-track.js';
import { roomReverb } from './instruments/room-reverb.js';
import { keysChords, SONG_LENGTH_S } from './score.js';

const KEYS_GAIN = 0.07;

/** Electric piano, each chord a little spread by the hand, panned slowly from side to side, with some room. */
export function keysTrack(sampleRate_Hz: number): StereoSignal {
  const dry = new Float64Array(Math.round(SONG_LENGTH_S * sampleRate_Hz));
  const random = new SeededRandom(41);
  for (const chord of keysChords()) {
    chord.midis.forEach((midi, finger) => {
      const velocity = Math.min(1, chord.velocity * (1 + 0.08 * random.normal()));
      const sound = electricPianoNote(
        { frequency_Hz: midi_to_frequency(midi), length_s: chord.length_s, velocity },
        sampleRate_Hz,
      );
      const start_s = chord.start_s + 0.006 * finger + 0.002 * random.normal();
      addAt(dry, sound, Math.round(start_s * sampleRate_Hz), KEYS_GAIN);
    });
  }
  filteredTrack(dry, butterworthHighPass(2, 160, sampleRate_Hz));
  const room = roomReverb(
    dry,
    { decayT60_s: 1.3, preDelay_s: 0.018, damping_Hz: 3800, lowCut_Hz: 260, size: 1.35 },
    sampleRate_Hz,
  );
  for (let n = 0; n < dry.length; n++) {
    const swing = 0.32 * sinCycles((4.7 * n) / sampleRate_Hz);
    room.left[n] = dry[n]! * (1 + swing) + 0.22 * room.left[n]!;
    room.right[n] = dry[n]! * (1 - swing) + 0.22 * room.right[n]!;
  }
  return { ...room, sampleRate_Hz };
}
