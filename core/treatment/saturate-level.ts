import { TICK } from '../dsp/stereo-unit.js';
import type { StereoSignal } from '../signal/stereo-signal.js';
import { amplitude_to_dB } from '../units/decibels.js';
import { percentile } from '../units/statistics.js';
import { saturate } from './saturate.js';
import type { StageInstance } from './treatment.js';

/** Length of the rms that the reference is read from. */
const BLOCK_s = 0.05;
/** Blocks this far under the loudest are pauses and do not count. */
const PAUSE_POWER = 1e-4; // -40 dB

/**
 * The lane's loud level as the peak of a sine: sqrt 2 times the 90th percentile of 50 ms rms (mean over channels), pauses left
 * out, so that a drive means the same on every song. 0.25 for silence.
 */
export function saturateReference_FS(lane: StereoSignal): number {
  const length = Math.round(BLOCK_s * lane.sampleRate_Hz);
  const powers: number[] = [];
  let loudest = 0;
  for (let at = 0; at + length <= lane.left.length; at += length) {
    let sum = 0;
    for (let n = at; n < at + length; n++) sum += lane.left[n]! * lane.left[n]! + lane.right[n]! * lane.right[n]!;
    powers.push(sum / (2 * length));
    loudest = Math.max(loudest, sum / (2 * length));
  }
  const sounding = powers.filter((power) => power > loudest * PAUSE_POWER);
  if (sounding.length === 0) return 0.25;
  return (
    Math.SQRT2 *
    percentile(
      sounding.map((power) => Math.sqrt(power)),
      90,
    )
  );
}

export interface SaturateMakeUp {
  readonly makeUpDrives_dB: readonly number[];
  readonly makeUps_dB: readonly number[];
}

/**
 * The make-up at which the lane keeps its energy, exactly at the drives given (in between the stage draws straight lines).
 * One pass per drive through the stage itself at full mix gives E(x), E(w) and the cross term; with mix p and wet gain m
 *   (1 - p)^2 E(x) + 2 p (1 - p) m E(x, w) + p^2 m^2 E(w) = E(x)
 * is solved for m > 0. Measured over the song: the formula for a sine misses by -1.4 to +2.4 dB.
 *
 * @param settings those of the stage; `drive_dB` is replaced by each drive, `mix_percent` is taken as the mix p.
 */
export function saturateMakeUp(
  lane: StereoSignal,
  settings: StageInstance['settings'],
  reference_FS: number,
  drives_dB: readonly number[],
): SaturateMakeUp {
  const mix = typeof settings['mix_percent'] === 'number' ? settings['mix_percent'] / 100 : 1;
  const makeUps_dB = drives_dB.map((drive_dB) => {
    const energies = energiesAt(lane, {
      stage: 'saturate',
      on: true,
      settings: { ...settings, drive_dB, mix_percent: 100 },
      figures: { reference_FS },
    });
    return solved_dB(energies, mix);
  });
  return { makeUpDrives_dB: drives_dB, makeUps_dB };
}

interface Energies {
  readonly dry: number;
  readonly cross: number;
  readonly wet: number;
}

function solved_dB({ dry, cross, wet }: Energies, mix: number): number {
  if (!(dry > 0 && wet > 0 && mix > 0)) return 0;
  const a = mix * mix * wet;
  const half = mix * (1 - mix) * cross;
  const c = ((1 - mix) * (1 - mix) - 1) * dry; // <= 0, so one root is positive
  return amplitude_to_dB((Math.sqrt(half * half - a * c) - half) / a);
}

function energiesAt(lane: StereoSignal, instance: StageInstance): Energies {
  const unit = saturate.create({ sampleRate_Hz: lane.sampleRate_Hz, notes: [], hits: [] });
  unit.configure(instance, true);
  unit.seek(0);
  const frames = lane.left.length;
  const left = new Float64Array(TICK);
  const right = new Float64Array(TICK);
  let dry = 0;
  let cross = 0;
  let wet = 0;
  for (let at = 0; at < frames + unit.latencySamples; at += TICK) {
    for (let i = 0; i < TICK; i++) {
      left[i] = at + i < frames ? lane.left[at + i]! : 0;
      right[i] = at + i < frames ? lane.right[at + i]! : 0;
    }
    unit.process(left, right, TICK);
    unit.flush();
    for (let i = 0; i < TICK; i++) {
      const n = at + i - unit.latencySamples;
      const inside = n >= 0 && n < frames;
      const dryLeft = inside ? lane.left[n]! : 0;
      const dryRight = inside ? lane.right[n]! : 0;
      dry += dryLeft * dryLeft + dryRight * dryRight;
      cross += dryLeft * left[i]! + dryRight * right[i]!;
      wet += left[i]! * left[i]! + right[i]! * right[i]!;
    }
  }
  return { dry, cross, wet };
}
