import { PlainError } from '../../core/units/plain-error.js';
import { parseValue } from '../../core/wishes/value-text.js';
import { sayNumberOf, sayValue } from './say-value.js';
import type { ValueRange } from './value-range.js';

/**
 * Reads what was typed into a blank. A leading sign is a step from the present value, unless the range holds negative values:
 * there it is the sign of the value.
 */
export function typedValue(
  text: string,
  range: ValueRange,
  unit: string,
  current: number,
  tempo_bpm: number | null,
): { readonly value: number } | { readonly problem: string } {
  try {
    const value = parseValue(text, { unit, current, relative: range.min >= 0, tempo_bpm });
    if (value >= range.min && value <= range.max) return { value };
    return { problem: `It takes ${sayNumberOf(range.min, unit)} to ${sayValue(range.max, unit)}.` };
  } catch (error) {
    if (error instanceof PlainError) return { problem: `${error.reason} ${error.remedy}` };
    throw error;
  }
}
