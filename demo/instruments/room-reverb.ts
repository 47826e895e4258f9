import type { StereoSignal } from '../../core/signal/stereo-signal.js';
import { exp10 } from '../../core/units/exact-math.js';
import { OnePole } from './one-pole.js';

export interface Room {
  readonly decayT60_s: number;
  readonly preDelay_s: number;
  /** Walls swallow what lies above. */
  readonly damping_Hz: number;
  /** Nothing below is let into the room. */
  readonly lowCut_Hz: number;
  /** Size against a small studio of 1. */
  readonly size: number;
}

const LENGTHS_S = [0.0211, 0.0263, 0.0307, 0.0353, 0.0401, 0.0449, 0.0509, 0.0571];

/**
 * A room: eight delay lines fed back through a Householder matrix (J.-M. Jot and A. Chaigne, "Digital Delay Networks for
 * Designing Artificial Reverberators", AES 90th Convention, 1991), damped line by line, even lines to the left and odd ones to
 * the right. Wet only.
 */
export function roomReverb(dry: Float64Array, room: Room, sampleRate_Hz: number): StereoSignal {
  const left = new Float64Array(dry.length);
  const right = new Float64Array(dry.length);
  const count = LENGTHS_S.length;
  const lengths = LENGTHS_S.map((length_s) => Math.round(length_s * room.size * sampleRate_Hz));
  const gains = lengths.map((length) => exp10((-3 * length) / (room.decayT60_s * sampleRate_Hz)));
  const lines = lengths.map((length) => new Float64Array(length));
  const damping = lengths.map(() => new OnePole(room.damping_Hz, sampleRate_Hz));
  const lowCut = new OnePole(room.lowCut_Hz, sampleRate_Hz);
  const preDelay = Math.round(room.preDelay_s * sampleRate_Hz);
  const heard = new Float64Array(count);
  for (let n = 0; n < dry.length; n++) {
    const input = lowCut.high(n >= preDelay ? dry[n - preDelay]! : 0);
    let sum = 0;
    for (let k = 0; k < count; k++) {
      const line = lines[k]!;
      heard[k] = gains[k]! * damping[k]!.low(line[n % line.length]!);
      sum += heard[k]!;
    }
    for (let k = 0; k < count; k++) {
      const line = lines[k]!;
      const fed = input + heard[k]! - (2 / count) * sum;
      line[n % line.length] = fed < 1e-30 && fed > -1e-30 ? 0 : fed;
    }
    left[n] = 0.4 * (heard[0]! - heard[2]! + heard[4]! - heard[6]!);
    right[n] = 0.4 * (heard[1]! - heard[3]! + heard[5]! - heard[7]!);
  }
  return { left, right, sampleRate_Hz };
}
