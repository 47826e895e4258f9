import { SeededRandom } from '../../core/units/seeded-random.js';
import {
  addDrumBleed,
  addNoise,
  attackOf,
  kickLine,
  kickSound,
  randomKick,
  type KickHitTruth,
} from './synthetic-kick.js';

/** A busy kick stem with what was played. Times are of the attacks. */
export interface BusyKick {
  readonly line: Float64Array;
  readonly sampleRate_Hz: number;
  /** Hits within 12 dB of the median hit: these must be found. */
  readonly hits_s: readonly number[];
  /** Ghosts more than 12 dB under the median hit: these may be found or not. */
  readonly ghosts_s: readonly number[];
}

const RATE_HZ = 48_000;
const BEATS = 14;

/**
 * Any kick by a seed: a beat with off-beat hits 6 to 18 dB down exactly under a hat, doubles 85 to 150 ms on while the last hit
 * rings, snare and hats in the microphone (peaks -12 dB for odd seeds, -24 for even ones) and noise at -75 dBFS.
 */
export function busyKick(seed: number): BusyKick {
  const random = new SeededRandom(seed);
  const sound = kickSound(randomKick(random), RATE_HZ, random, 2.5);
  const beat_s = random.between(0.35, 0.6);
  const truth = playedHits(random, beat_s);
  const line = kickLine(truth, sound, RATE_HZ, 0.25 + (BEATS + 1) * beat_s);
  addNoise(line, -75, random);
  addDrumBleed(line, RATE_HZ, beat_s, seed % 2 === 1 ? 0.25 : 0.06, random);
  const usual = truth.map((hit) => hit.gain).sort((a, b) => a - b)[truth.length >> 1]!;
  const attack_s = attackOf(sound, RATE_HZ);
  const timesOf = (ghosts: boolean): number[] =>
    truth.filter(({ gain }) => gain < usual / 10 ** (12 / 20) === ghosts).map(({ time_s }) => time_s + attack_s);
  return { line, sampleRate_Hz: RATE_HZ, hits_s: timesOf(false), ghosts_s: timesOf(true) };
}

function playedHits(random: SeededRandom, beat_s: number): KickHitTruth[] {
  const down = (least_dB: number, most_dB: number): number => 10 ** (-random.between(least_dB, most_dB) / 20);
  return Array.from({ length: BEATS }, (_, i) => 0.25 + i * beat_s).flatMap((time_s) => {
    const hit = { time_s, gain: down(0, 4) };
    const draw = random.uniform();
    if (draw < 0.2) return [hit, { time_s: time_s + beat_s / 2, gain: down(6, 18) }];
    if (draw < 0.4) return [hit, { time_s: time_s + random.between(0.085, 0.15), gain: down(0, 8) }];
    return [hit];
  });
}
