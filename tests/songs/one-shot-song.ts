import { SeededRandom } from '../../core/units/seeded-random.js';
import type { Track } from '../../core/measure/song-sound.js';
import { oneShot } from './one-shots.js';
import { songOfParts, type PlayedNote, type TestSong } from './song-of-parts.js';

const RATE_HZ = 44100;

/** Recorded CC0 one-shots (supersonic-scsynth-samples), by what they are. A bass states its own pitch as a note number. */
const KICKS = ['bd_haus', 'bd_fat', 'bd_klub', 'bd_tek', 'bd_zum', 'bd_808', 'drum_heavy_kick', 'bd_ada'];
const SNARES = ['sn_dolf', 'sn_zome', 'sn_generic', 'drum_snare_hard', 'elec_hi_snare', 'elec_lo_snare'];
const HATS = ['hat_bdu', 'hat_cab', 'hat_gump', 'hat_snap', 'drum_cymbal_closed', 'hat_zild'];
const BASSES = [
  { name: 'bass_hard_c', midi: 36 },
  { name: 'bass_thick_c', midi: 36 },
  { name: 'bass_trance_c', midi: 36 },
  { name: 'bass_woodsy_c', midi: 36 },
];
const KEYS = ['tbd_highkey_c4'];

const KICK_BARS = ['X.....X.X.......', 'X...X...X...X...', 'X..X....X.X.....', 'X.......X.....X.'];
/** Scale steps in semitones over the root, [step, length, semitones]. */
const BASS_BARS: readonly (readonly (readonly [number, number, number])[])[] = [
  [
    [0, 2.6, 0],
    [4, 1.6, 7],
    [6, 1.6, 5],
    [8, 2.6, 0],
    [12, 1.6, 3],
    [14, 1.6, 5],
  ],
  [
    [0, 1.6, 0],
    [3, 2.6, 0],
    [6, 1.6, 3],
    [10, 2.6, 7],
    [14, 1.6, 10],
  ],
  [
    [2, 1.6, 5],
    [6, 1.6, 5],
    [8, 2.6, 3],
    [12, 1.6, 0],
    [14, 1.6, 7],
  ],
];

/** A song of 20 to 30 s arranged from one-shots by a seed: other sounds, tempo, key and patterns for every seed. */
export async function oneShotSong(seed: number): Promise<TestSong> {
  const random = new SeededRandom(seed);
  const pick = <T>(from: readonly T[]): T => from[random.below(from.length)]!;
  const tempo_bpm = 84 + random.below(48);
  const step_s = 15 / tempo_bpm;
  const barCount = Math.round(24 / (16 * step_s));
  const root = pick([-5, -3, 0, 2, 4]);
  const bassShot = pick(BASSES);
  const [kick, snare, hat, bass, key] = await Promise.all(
    [pick(KICKS), pick(SNARES), pick(HATS), bassShot.name, pick(KEYS)].map(decodedMono),
  );
  const kickBars = [pick(KICK_BARS), pick(KICK_BARS)];
  const bassBars = [pick(BASS_BARS), pick(BASS_BARS)];
  const frames = Math.round((0.5 + barCount * 16 * step_s + 1) * RATE_HZ);
  const track = {
    kick: new Float64Array(frames),
    bass: new Float64Array(frames),
    drums: new Float64Array(frames),
    keys: new Float64Array(frames),
  };
  const hits_s: number[] = [];
  const notes: PlayedNote[] = [];
  for (let bar = 0; bar < barCount; bar++) {
    const at = (step: number) => Math.round((0.5 + (bar * 16 + step) * step_s) * RATE_HZ) / RATE_HZ;
    [...kickBars[bar % 2]!].forEach((mark, step) => {
      if (mark === '.') return;
      hits_s.push(at(step) + attack_s(kick!));
      add(track.kick, kick!, at(step), 0.5);
    });
    for (const step of [4, 12]) add(track.drums, snare!, at(step), 0.3);
    for (let step = 0; step < 16; step += 2) add(track.drums, hat!, at(step), step % 4 === 2 ? 0.16 : 0.1);
    add(track.keys, atPitch(key!, root, 14 * step_s), at(0), 0.12);
    add(track.keys, atPitch(key!, root + 7, 14 * step_s), at(0), 0.1);
    for (const [step, length, semitones] of bassBars[bar % 2]!) {
      const shift = root + semitones - (root + semitones > 8 ? 12 : 0);
      const length_s = length * step_s;
      add(track.bass, atPitch(bass!, shift, length_s), at(step), 0.3);
      notes.push({
        start_s: at(step),
        end_s: at(step) + length_s,
        frequency_Hz: 440 * 2 ** ((bassShot.midi + shift - 69) / 12),
      });
    }
  }
  const parts = {
    kick: [mono('01 Kick.wav', track.kick)],
    bass: [mono('02 Bass DI.wav', track.bass)],
    rest: [mono('03 Drums.wav', track.drums), mono('04 Keys.wav', track.keys)],
  };
  return songOfParts(`one-shots ${seed}`, parts, { tempo_bpm, hits_s, notes });
}

function mono(file: string, samples: Float64Array): Track {
  return { file, signal: { left: samples, right: samples, sampleRate_Hz: RATE_HZ } };
}

/** The decoder divides by 2^(bits-1) - 1: multiplied back and rounded the integers are exact. Peak brought to 1. */
async function decodedMono(name: string): Promise<Float64Array> {
  const { left, right, sampleRate_Hz } = await oneShot(name);
  const samples = Float64Array.from(left, (value, n) => 0.5 * (value + right[n]!));
  const peak = samples.reduce((most, x) => Math.max(most, Math.abs(x)), 1e-9);
  const conformed = sampleRate_Hz === RATE_HZ ? samples : readAtSpeed(samples, sampleRate_Hz / RATE_HZ, Infinity);
  return conformed.map((x) => x / peak);
}

function atPitch(shot: Float64Array, semitones: number, length_s: number): Float64Array {
  const sound = readAtSpeed(shot, 2 ** (semitones / 12), Math.round(length_s * RATE_HZ));
  const fade = Math.round(0.012 * RATE_HZ);
  for (let i = 0; i < Math.min(fade, sound.length); i++) sound[sound.length - 1 - i]! *= i / fade;
  return sound;
}

/** Reads between samples by a Hann-windowed sinc of 32 taps, its corner lowered when read faster, so that nothing folds. */
function readAtSpeed(shot: Float64Array, speed: number, mostFrames: number): Float64Array {
  const corner = Math.min(1, 1 / speed);
  const output = new Float64Array(Math.min(mostFrames, Math.floor((shot.length - 1) / speed)));
  for (let n = 0; n < output.length; n++) {
    const position = n * speed;
    const first = Math.floor(position) - 15;
    let sum = 0;
    for (let k = Math.max(0, first); k < Math.min(shot.length, first + 32); k++) {
      const x = position - k;
      const sinc = x === 0 ? corner : Math.sin(Math.PI * corner * x) / (Math.PI * x);
      sum += shot[k]! * sinc * (0.5 + 0.5 * Math.cos((Math.PI * x) / 16.5));
    }
    output[n] = sum;
  }
  return output;
}

/** First sample at a tenth of the peak. */
function attack_s(shot: Float64Array): number {
  return shot.findIndex((x) => Math.abs(x) >= 0.1) / RATE_HZ;
}

function add(track: Float64Array, sound: Float64Array, start_s: number, gain: number): void {
  const from = Math.round(start_s * RATE_HZ);
  for (let n = 0; n < sound.length && from + n < track.length; n++) track[from + n]! += gain * sound[n]!;
}
