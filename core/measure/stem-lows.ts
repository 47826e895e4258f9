import { RealFft } from '../dsp/fft.js';
import { isMono, type Channel, type StereoSignal } from '../signal/stereo-signal.js';
import { amplitude_to_dB, power_to_dB } from '../units/decibels.js';
import { exp2 } from '../units/exact-math.js';
import { figure, unmeasurable, type Reading } from '../units/reading.js';
import { lowSignal } from './low-channel.js';
import type { SongSound, Track } from './song-sound.js';

/** What one file holds below the music: mean and infrasonic energy. */
export interface StemLows {
  readonly role: 'kick' | 'bass' | 'rest';
  readonly file: string;
  /** Mean of each channel, full scale 1. */
  readonly meanLeft_FS: number;
  readonly meanRight_FS: number;
  /** 20 lg of the larger mean; unmeasurable where there is none. */
  readonly dc_dBFS: Reading;
  /** Power from 5 to 20 Hz and from 30 to 150 Hz, channels summed. */
  readonly infrasonic_dBFS: Reading;
  readonly lows_dBFS: Reading;
  /** Twelfth octaves from 5 to 150 Hz: centre and power, channels summed; null where there is none. */
  readonly bands_Hz: readonly number[];
  readonly bands_dBFS: readonly (number | null)[];
}

/** Means and infrasonic power of every single track at hand. */
export function measureStemLows(sound: SongSound): StemLows[] {
  const roles = ['kick', 'bass', 'rest'] as const;
  return roles.flatMap((role) => sound.tracks[role].map((track) => stemLowsOf(role, track)));
}

/** Power by the transform of the whole file less its mean (no taper), of its lows at about 4 kHz. */
export function stemLowsOf(role: StemLows['role'], { file, signal }: Track): StemLows {
  const meanLeft = meanOf(signal.left);
  const meanRight = isMono(signal) ? meanLeft : meanOf(signal.right);
  const spectrum = lowSpectrum(signal, meanLeft, meanRight);
  const mean = Math.max(Math.abs(meanLeft), Math.abs(meanRight));
  return {
    role,
    file,
    meanLeft_FS: meanLeft,
    meanRight_FS: meanRight,
    dc_dBFS: mean > 0 ? figure(amplitude_to_dB(mean)) : unmeasurable('no mean at all'),
    infrasonic_dBFS: readingOf(powerWithin(spectrum, 5, 20)),
    lows_dBFS: readingOf(powerWithin(spectrum, 30, 150)),
    bands_Hz: BANDS_Hz,
    bands_dBFS: BANDS_Hz.map((centre) => {
      const power = powerWithin(spectrum, centre * exp2(-1 / 24), centre * exp2(1 / 24));
      return power > 0 ? power_to_dB(power) : null;
    }),
  };
}

const BANDS_Hz = Array.from({ length: 59 }, (_, i) => 5 * exp2((i + 0.5) / 12));

interface LowSpectrum {
  readonly bin_Hz: number;
  /** Sum of the power of all bins below k. */
  readonly running: Float64Array;
}

function meanOf(samples: Channel): number {
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += samples[i]!;
  return samples.length > 0 ? sum / samples.length : 0;
}

function lowSpectrum(signal: StereoSignal, meanLeft: number, meanRight: number): LowSpectrum {
  const { left, right, sampleRate_Hz } = lowSignal(signal);
  const count = left.length;
  let size = 2;
  while (size < count) size *= 2;
  const fft = new RealFft(size);
  const re = new Float64Array(fft.binCount);
  const im = new Float64Array(fft.binCount);
  const running = new Float64Array(fft.binCount + 1);
  const add = (samples: Channel, mean: number, times: number): void => {
    const level = new Float64Array(samples);
    for (let n = 0; n < level.length; n++) level[n]! -= mean;
    fft.forward(level, re, im);
    const scale = (2 * times) / (size * Math.max(1, count));
    for (let k = 1; k < fft.binCount; k++) running[k + 1]! += scale * (re[k]! * re[k]! + im[k]! * im[k]!);
  };
  add(left, meanLeft, isMono(signal) ? 2 : 1);
  if (!isMono(signal)) add(right, meanRight, 1);
  for (let k = 1; k < running.length; k++) running[k]! += running[k - 1]!;
  return { bin_Hz: sampleRate_Hz / size, running };
}

function powerWithin({ bin_Hz, running }: LowSpectrum, low_Hz: number, high_Hz: number): number {
  const from = Math.max(1, Math.ceil(low_Hz / bin_Hz));
  const to = Math.min(running.length - 1, Math.ceil(high_Hz / bin_Hz));
  return to > from ? running[to]! - running[from]! : 0;
}

function readingOf(power: number): Reading {
  return power > 0 ? figure(power_to_dB(power)) : unmeasurable('silent');
}
