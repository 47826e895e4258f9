import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';

/** How loud one file is through the song. */
export interface LevelCourse {
  readonly file: string;
  readonly step_s: number;
  /** 10 lg of the mean square of each step, both channels' mean; not under -90 dBFS. */
  readonly level_dBFS: Float32Array;
}

/** Short enough to keep two kick hits apart, long enough that a minute is 1200 values. */
export const COURSE_STEP_s = 0.05;
const FLOOR_dBFS = -90;

/** Mean square over steps of 50 ms, as a picture of a file: it shows what was played where, and carries no measure. */
export function levelCourse(file: string, signal: StereoSignal): LevelCourse {
  const { left, right, sampleRate_Hz } = signal;
  const mono = isMono(signal);
  const step = Math.round(COURSE_STEP_s * sampleRate_Hz);
  const level_dBFS = new Float32Array(Math.ceil(left.length / step));
  for (let n = 0; n < level_dBFS.length; n++) {
    const end = Math.min(left.length, (n + 1) * step);
    const ofLeft = energyWithin(left, n * step, end);
    const energy = ofLeft + (mono ? ofLeft : energyWithin(right, n * step, end));
    const power = energy / (2 * (end - n * step));
    level_dBFS[n] = power > 0 ? Math.max(FLOOR_dBFS, power_to_dB(power)) : FLOOR_dBFS;
  }
  return { file, step_s: step / sampleRate_Hz, level_dBFS };
}

function energyWithin(channel: Channel, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += channel[i]! * channel[i]!;
  return sum;
}
