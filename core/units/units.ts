/**
 * Names of physical quantities. They are plain numbers to the compiler; the name says what a parameter means, and every
 * variable that holds one carries its unit behind an underscore, spelled as the trade writes it (`corner_Hz`, `attack_ms`).
 */
export type Hertz = number;
export type Decibels = number;
export type Seconds = number;
export type Milliseconds = number;
/** A count of samples per channel (frames), or a position counted from song sample 0. */
export type Samples = number;
/** Cents: hundredths of an equal-tempered semitone. */
export type Cents = number;
/** A plain share, 0..1. */
export type Share = number;

/** @returns `value` held within `low..high`. NaN stays NaN. */
export function clamp(value: number, low: number, high: number): number {
  return value < low ? low : value > high ? high : value;
}
