import { butterworthHighPass } from '../core/dsp/butterworth.js';
import type { StereoSignal } from '../core/signal/stereo-signal.js';
import { SeededRandom } from '../core/units/seeded-random.js';
import { cymbalHit, type CymbalVoice } from './instruments/cymbal.js';
import { addAt, filteredTrack } from './instruments/filtered-track.js';
import { KickDrum, type KickVoice } from './instruments/kick-drum.js';
import { roomReverb } from './instruments/room-reverb.js';
import { SnareDrum, type SnareVoice } from './instruments/snare-drum.js';
import { crashStrokes, hatStrokes, kickStrokes, snareStrokes, SONG_LENGTH_S, type Stroke } from './score.js';

export const KICK_VOICE: KickVoice = {
  fundamental_Hz: 54.6,
  sweep_Hz: 75,
  sweep_s: 0.007,
  decay_s: 0.135,
  click: 0.7,
};

const SNARE_VOICE: SnareVoice = { head_Hz: 188, headDecay_s: 0.075, wireDecay_s: 0.13, wires: 0.75 };
const CLOSED_HAT: CymbalVoice = { lowest_Hz: 3150, decay_s: 0.05, thinCorner_Hz: 6200, noise: 0.55, length_s: 0.22 };
const OPEN_HAT: CymbalVoice = { lowest_Hz: 3150, decay_s: 0.32, thinCorner_Hz: 5400, noise: 0.5, length_s: 0.6 };
const CRASH: CymbalVoice = { lowest_Hz: 1630, decay_s: 1.1, thinCorner_Hz: 2400, noise: 0.45, length_s: 3 };

const KICK_IN_GAIN = 0.147;
const KICK_OUT_GAIN = 0.122;

function emptyTrack(sampleRate_Hz: number): Float64Array {
  return new Float64Array(Math.round(SONG_LENGTH_S * sampleRate_Hz));
}

/** Both kick microphones. */
export function kickTracks(sampleRate_Hz: number): { inside: Float64Array; outside: Float64Array } {
  const inside = emptyTrack(sampleRate_Hz);
  const outside = emptyTrack(sampleRate_Hz);
  const random = new SeededRandom(31);
  const drum = new KickDrum(KICK_VOICE, sampleRate_Hz);
  for (const stroke of kickStrokes()) {
    const at = Math.round(stroke.time_s * sampleRate_Hz);
    const sound = drum.hit(stroke.velocity, random);
    addAt(inside, sound.inside, at, KICK_IN_GAIN);
    addAt(outside, sound.outside, at, KICK_OUT_GAIN);
  }
  return { inside, outside };
}

/** Snare, hats, crash and the room they stand in, as one stereo track. */
export function drumTracks(sampleRate_Hz: number): StereoSignal {
  const snare = emptyTrack(sampleRate_Hz);
  const left = emptyTrack(sampleRate_Hz);
  const right = emptyTrack(sampleRate_Hz);
  const random = new SeededRandom(32);
  const drum = new SnareDrum(SNARE_VOICE, sampleRate_Hz);
  for (const stroke of snareStrokes()) {
    const sound = drum.hit(stroke.velocity, random);
    addAt(snare, sound, samplesOf(stroke, sampleRate_Hz), 0.235);
  }
  const closed = [0, 1, 2, 3, 4].map(() => cymbalHit(CLOSED_HAT, sampleRate_Hz, random));
  const open = [0, 1].map(() => cymbalHit(OPEN_HAT, sampleRate_Hz, random));
  for (const stroke of hatStrokes()) {
    const takes = stroke.mark === 'O' ? open : closed;
    const sound = takes[random.below(takes.length)]!;
    addAt(left, sound, samplesOf(stroke, sampleRate_Hz), 0.08 * stroke.velocity);
    addAt(right, sound, samplesOf(stroke, sampleRate_Hz) + 14, 0.135 * stroke.velocity);
  }
  for (const stroke of crashStrokes()) {
    const sound = cymbalHit(CRASH, sampleRate_Hz, random);
    addAt(left, sound, samplesOf(stroke, sampleRate_Hz), 0.16 * stroke.velocity);
    addAt(right, sound, samplesOf(stroke, sampleRate_Hz) + 23, 0.11 * stroke.velocity);
  }
  const send = snare.slice();
  addAt(send, left, 0, 0.4);
  addAt(send, right, 0, 0.4);
  const room = roomReverb(
    send,
    { decayT60_s: 0.75, preDelay_s: 0.009, damping_Hz: 5200, lowCut_Hz: 180, size: 1 },
    sampleRate_Hz,
  );
  addAt(left, snare, 0, 1);
  addAt(right, snare, 0, 1);
  addAt(left, room.left, 0, 0.26);
  addAt(right, room.right, 0, 0.26);
  const thin = butterworthHighPass(2, 90, sampleRate_Hz);
  return { left: filteredTrack(left, thin), right: filteredTrack(right, thin), sampleRate_Hz };
}

function samplesOf(stroke: Stroke, sampleRate_Hz: number): number {
  return Math.round(stroke.time_s * sampleRate_Hz);
}
