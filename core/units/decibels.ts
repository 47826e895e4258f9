import { exp10, log10 } from './exact-math.js';

/**
 * Decibel conversions: two functions for two meanings, never a bare `toDb`. The reference is 1. A power or amplitude of 0
 * gives -Infinity, which callers turn into "silent" before it reaches a figure.
 */
export function power_to_dB(power: number): number {
  return 10 * log10(power);
}

export function dB_to_power(level_dB: number): number {
  return exp10(level_dB / 10);
}

export function amplitude_to_dB(amplitude: number): number {
  return 20 * log10(amplitude);
}

export function dB_to_amplitude(level_dB: number): number {
  return exp10(level_dB / 20);
}
