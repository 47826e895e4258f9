import { bell } from '../core/dsp/biquad.js';
import { butterworthHighPass, butterworthLowPass } from '../core/dsp/butterworth.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import { midi_to_frequency } from '../core/units/notes.js';
import { SeededRandom } from '../core/units/seeded-random.js';
import { addAt, filteredTrack } from './instruments/filtered-track.js';
import { pluckedString } from './instruments/plucked-string.js';
import { roomReverb } from './instruments/room-reverb.js';
import { guitarNotesOf, guitarStrokes, SONG_LENGTH_S, STEP_S } from './score.js';

const GUITAR_GAIN = 0.13;
/** Traffic and footfall on a wooden floor, through the amplifier's microphone stand, root mean square. */
const RUMBLE_LEVEL = 0.006;

/** Two takes of one part, left and right, from an amplifier in a room whose floor shakes. */
export function guitarTrack(sampleRate_Hz: number): StereoSignal {
  const takes = [51, 52].map((seed) => guitarTake(seed, sampleRate_Hz));
  const [first, second] = [takes[0]!, takes[1]!];
  const both = first.slice();
  addAt(both, second, 0);
  const room = roomReverb(
    both,
    { decayT60_s: 0.9, preDelay_s: 0.012, damping_Hz: 4200, lowCut_Hz: 240, size: 1.1 },
    sampleRate_Hz,
  );
  const floor = floorRumble(sampleRate_Hz);
  const left = new Float64Array(first.length);
  const right = new Float64Array(first.length);
  for (let n = 0; n < left.length; n++) {
    left[n] = 0.92 * first[n]! + 0.2 * second[n]! + 0.12 * room.left[n]! + floor[n]!;
    right[n] = 0.2 * first[n]! + 0.92 * second[n]! + 0.12 * room.right[n]! + floor[n]!;
  }
  return { left, right, sampleRate_Hz };
}

function guitarTake(seed: number, sampleRate_Hz: number): Float64Array {
  const random = new SeededRandom(seed);
  const track = new Float64Array(Math.round(SONG_LENGTH_S * sampleRate_Hz));
  for (const stroke of guitarStrokes()) {
    const open = stroke.mark === 'X';
    guitarNotesOf(stroke.bar).forEach((midi, string) => {
      const sound = pluckedString(
        {
          frequency_Hz: midi_to_frequency(midi + 0.04 * random.normal()),
          length_s: stroke.bar === 12 ? 3 : (open ? 1.3 : 0.45) * STEP_S,
          decayT60_s: open ? 1.1 : 0.16,
          releaseT60_s: 0.08,
          dampingCorner_Hz: open ? 6500 : 2600,
          pickPosition: 0.14,
          touchCorner_Hz: 2600 + 1500 * stroke.velocity,
          noise: 0.3,
        },
        sampleRate_Hz,
        random,
      );
      const start_s = stroke.time_s + 0.005 * string + 0.004 * random.normal();
      addAt(track, sound, Math.round(start_s * sampleRate_Hz), GUITAR_GAIN * stroke.velocity);
    });
  }
  return filteredTrack(track, [
    ...butterworthHighPass(2, 240, sampleRate_Hz),
    bell(sampleRate_Hz, 2400, 0.9, 3),
    ...butterworthLowPass(4, 5200, sampleRate_Hz),
  ]);
}

function floorRumble(sampleRate_Hz: number): Float64Array {
  const random = new SeededRandom(53);
  const floor = new Float64Array(Math.round(SONG_LENGTH_S * sampleRate_Hz));
  for (let n = 0; n < floor.length; n++) floor[n] = random.between(-1, 1);
  filteredTrack(floor, [...butterworthHighPass(2, 7, sampleRate_Hz), ...butterworthLowPass(4, 13, sampleRate_Hz)]);
  let sum = 0;
  for (let n = 0; n < floor.length; n++) sum += floor[n]! * floor[n]!;
  const gain = RUMBLE_LEVEL / Math.sqrt(sum / floor.length);
  for (let n = 0; n < floor.length; n++) floor[n]! *= gain;
  return floor;
}
