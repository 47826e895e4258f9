import { filteredBothWays } from '../dsp/biquad.js';
import { butterworthBandPass } from '../dsp/butterworth.js';

import { isMono, type StereoSignal } from '../signal/stereo-signal.js';
import { power_to_dB } from '../units/decibels.js';
import { lowSignal } from './low-channel.js';
import type { Knowledge, SongSound } from './song-sound.js';
import { thirdOctaveEdges_Hz, thirdOctaves_Hz } from './third-octaves.js';

/** What the lows do through the song: levels per third octave from 40 to 100 Hz, for a picture, never for a verdict. */
export interface LowsTrack {
  /** Exact mid frequencies, ascending: five bands. */
  readonly bands_Hz: readonly number[];
  readonly step_s: number;
  /** The bass, by band and step: 10 lg of mean square, channels summed; -120 where it is silent. */
  readonly bass_dBFS: readonly Float32Array[];
  readonly loudestBass_dBFS: number;
  /** Kick and bass over the first 150 ms of every hit, by hit and band. */
  readonly hitKick_dBFS: readonly (readonly number[])[];
  readonly hitBass_dBFS: readonly (readonly number[])[];
}

const STEP_s = 0.02;
/** Every step is measured over 50 ms, so that a period of 40 Hz does not show as a ripple. */
const SPREAD_s = 0.015;
const HIT_s = 0.15;
const SILENT_dBFS = -120;

/**
 * Levels by zero-phase Butterworth band-passes (order 3 forward and backward) between the band edges of IEC 61260-1:2014, mean
 * square over 50 ms every 20 ms, or over 0..150 ms of a hit.
 */
export function lowsTrack(sound: SongSound, known: Knowledge): LowsTrack {
  const bands_Hz = thirdOctaves_Hz(39, 101);
  const [lowBass, lowKick] = [reduced(sound.bass), reduced(sound.kick)];
  const bass = bands_Hz.map((centre) => bandPowers(lowBass, centre));
  const kick = bands_Hz.map((centre) => bandPowers(lowKick, centre));
  const bass_dBFS = bass.map(levelsPerStep);
  return {
    bands_Hz,
    step_s: STEP_s,
    bass_dBFS,
    loudestBass_dBFS: bass_dBFS.reduce((most, levels) => levels.reduce((a, b) => Math.max(a, b), most), SILENT_dBFS),
    hitKick_dBFS: known.hits.map(({ time_s }) => kick.map((powers) => levelWithin(powers, time_s, time_s + HIT_s))),
    hitBass_dBFS: known.hits.map(({ time_s }) => bass.map((powers) => levelWithin(powers, time_s, time_s + HIT_s))),
  };
}

/** Running sum of the band's power, both channels: entry n holds everything before sample n. */
interface BandPowers {
  readonly rate_Hz: number;
  readonly running: Float64Array;
}

function reduced(signal: StereoSignal | null): StereoSignal | null {
  return signal === null ? null : lowSignal(signal);
}

function bandPowers(low: StereoSignal | null, centre_Hz: number): BandPowers {
  if (low === null) return { rate_Hz: 1, running: new Float64Array(1) };
  const [from_Hz, to_Hz] = thirdOctaveEdges_Hz(centre_Hz);
  const sections = butterworthBandPass(3, from_Hz, to_Hz, low.sampleRate_Hz);
  const pad = Math.round(low.sampleRate_Hz / 2);
  const left = filteredBothWays(low.left, sections, pad);
  const right = isMono(low) ? left : filteredBothWays(low.right, sections, pad);
  const running = new Float64Array(left.length + 1);
  for (let n = 0; n < left.length; n++) running[n + 1] = running[n]! + left[n]! * left[n]! + right[n]! * right[n]!;
  return { rate_Hz: low.sampleRate_Hz, running };
}

function levelsPerStep(powers: BandPowers): Float32Array {
  const steps = Math.max(0, Math.floor((powers.running.length - 1) / powers.rate_Hz / STEP_s));
  return Float32Array.from({ length: steps }, (_, i) =>
    levelWithin(powers, i * STEP_s - SPREAD_s, (i + 1) * STEP_s + SPREAD_s),
  );
}

function levelWithin({ rate_Hz, running }: BandPowers, from_s: number, to_s: number): number {
  const last = running.length - 1;
  const from = Math.min(last, Math.max(0, Math.round(from_s * rate_Hz)));
  const to = Math.min(last, Math.max(0, Math.round(to_s * rate_Hz)));
  const mean = to > from ? (running[to]! - running[from]!) / (to - from) : 0;
  return mean > 1e-12 ? power_to_dB(mean) : SILENT_dBFS;
}
