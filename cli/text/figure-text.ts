import type { Reading } from '../../core/units/reading.js';

/** A number as it is shown: fixed digits, a true minus sign, never minus nothing. */
export function numberText(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `\u2212${text}` : text;
}

/** A value with its unit; shares are shown as per cent. */
export function valueText(value: number, unit: string, digits: number): string {
  const shown = numberText(unit === '%' ? value * 100 : value, digits);
  return unit === '' ? shown : `${shown} ${unit}`;
}

/** A change: its sign always stands before it. */
export function changeText(change: number, unit: string, digits: number): string {
  const text = valueText(change, unit, digits);
  return text.startsWith('\u2212') || Number(numberText(unit === '%' ? change * 100 : change, digits)) === 0
    ? text
    : `+${text}`;
}

/** A figure with its 90 % interval where there is one, or a dash: the reason stands elsewhere. */
export function readingText(reading: Reading, unit: string, digits: number): string {
  return reading.kind === 'unmeasurable' ? '\u2013' : valueText(reading.value, unit, digits);
}

/** The 90 % interval of a figure, empty where there is none. */
export function intervalText(reading: Reading, unit: string, digits: number): string {
  if (reading.kind === 'unmeasurable' || reading.low === undefined || reading.high === undefined) return '';
  const scale = unit === '%' ? 100 : 1;
  return `${numberText(reading.low * scale, digits)} to ${numberText(reading.high * scale, digits)}`;
}
