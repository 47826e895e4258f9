const NARROW = '\u00a0';

/** Digits after the point that a value of this size and unit is shown with. */
function digitsOf(value: number, unit: string): number {
  const size = Math.abs(value);
  if (unit === '%') return 0;
  if (unit === 'Hz') return size < 100 ? 1 : 0;
  if (unit === 'ms') return size < 10 ? 2 : size < 100 ? 1 : 0;
  if (unit === 'dB' || unit === 'LU' || unit.startsWith('dB') || unit === 'LUFS') return 1;
  return size < 10 ? 2 : 1;
}

/** A value rounded to the digits that are shown; one digit more where it was set finely. */
export function tidied(value: number, unit: string, fine = false): number {
  return Number(value.toFixed(digitsOf(value, unit) + (fine ? 1 : 0)));
}

/**
 * The figure as it is read, without unit: a true minus, no zeros behind the point that say nothing. A value that was set finely
 * keeps its further digit; one that was computed is rounded.
 */
export function sayNumberOf(value: number, unit: string): string {
  const exact = tidied(value, unit, true);
  const shown = Math.abs(value - exact) < 1e-9 ? exact : tidied(value, unit);
  return String(Object.is(shown, -0) ? 0 : shown).replace('-', '\u2212');
}

/** `1.5 dB`, `56 Hz`, `3:1` for a ratio: the figure and its unit, held together by a no-break space. */
export function sayValue(value: number, unit: string): string {
  return `${sayNumberOf(value, unit)}${unit === '' ? '' : NARROW + unit}`;
}
