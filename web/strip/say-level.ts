import { sayNumber } from '../../core/findings/say-figure.js';

/** A level difference with its sign: `+1.2`, `−2.5`, `0.0`. */
export function sayLevel(level_dB: number, digits = 1): string {
  const text = sayNumber(level_dB, digits);
  return level_dB > 0 && Number(text) !== 0 ? `+${text}` : text;
}
